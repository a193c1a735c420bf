package drawing

import (
	"html/template"
	"math"
	"strings"
	"unicode"

	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// Lengths in characters at which words from outside are cut.
const (
	maxLabel = 120
	maxTitle = 200
	maxText  = 8000
)

// clean makes words from outside fit to be shown: one line, no control or format characters, which
// could turn the line round or break the page, at most limit characters.
func clean(s string, limit int) string {
	var b strings.Builder
	n, gap, marks := 0, false, 0
loop:
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '\u00a0':
		case unicode.IsSpace(r):
			gap = n > 0
			continue
		case unicode.Is(unicode.M, r):
			if marks++; marks > 2 { // no towers of accents
				continue
			}
		case !unicode.IsPrint(r):
			continue
		default:
			marks = 0
		}
		if n >= limit-1 {
			b.WriteRune('…')
			break loop
		}
		if gap {
			b.WriteByte(' ')
			n, gap = n+1, false
		}
		b.WriteRune(r)
		n++
	}
	return b.String()
}

func escape(s string) string { return template.HTMLEscapeString(s) }

// ascii holds the widths of the printable ASCII characters, from the space on, in hundredths of the
// height, of a wide common typeface; a narrower one leaves room.
var ascii = [...]byte{
	32, 40, 46, 84, 64, 95, 78, 28, 39, 39, 50, 84, 32, 36, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34, 84, 84, 84, 53,
	100, 68, 69, 70, 77, 63, 58, 77, 75, 29, 29, 66, 56, 86, 75, 79, 60, 79, 69, 63, 61, 73, 68, 99, 69, 61, 69, 39, 34, 39, 84, 50,
	50, 61, 63, 55, 63, 62, 35, 63, 63, 28, 28, 58, 28, 97, 63, 61, 63, 63, 41, 52, 39, 63, 59, 82, 59, 59, 52, 64, 34, 64, 84,
}

// width estimates how wide s is in units at the given height, rather too wide than too narrow.
func width(s string, size float64) float64 {
	sum := 0.0
	for _, r := range s {
		switch {
		case r == '\u00a0':
			sum += 32
		case r >= ' ' && r <= '~':
			sum += float64(ascii[r-' '])
		case unicode.Is(unicode.M, r):
		case r < 0x250:
			sum += 80
		default:
			sum += 105
		}
	}
	return sum * size / 100
}

// shorten cuts s to a width, with an ellipsis.
func shorten(s string, size, room float64) string {
	if width(s, size) <= room {
		return s
	}
	rs := []rune(s)
	for n := len(rs) - 1; n > 0; n-- {
		if cut := strings.TrimRight(string(rs[:n]), " ,;:.") + "…"; width(cut, size) <= room {
			return cut
		}
	}
	return "…"
}

// wrap breaks s into at most lines lines of a width; what does not fit ends in an ellipsis.
func wrap(s string, size, room float64, lines int) []string {
	var out []string
	rest := s
	for rest != "" && len(out) < lines-1 && width(rest, size) > room {
		at := 0
		for i, r := range rest {
			if r == ' ' && width(rest[:i], size) <= room {
				at = i
			}
		}
		if at == 0 { // one long word
			for i := range rest {
				if i > 0 && width(rest[:i], size) <= room {
					at = i
				}
			}
		}
		if at == 0 {
			break
		}
		out = append(out, rest[:at])
		rest = strings.TrimLeft(rest[at:], " ")
	}
	if rest != "" {
		out = append(out, shorten(rest, size, room))
	}
	return out
}

// words writes s so that it begins (start), is centred (middle) or ends (end) at x; y is its foot.
func (c *canvas) words(anchor string, x, y float64, s string, attrs ...string) {
	c.b.WriteString(`<text x="` + num(x) + `" y="` + num(y) + `"`)
	if anchor != "start" {
		c.b.WriteString(` text-anchor="` + anchor + `"`)
	}
	for i := 0; i+1 < len(attrs); i += 2 {
		c.b.WriteString(` ` + attrs[i] + `="` + attrs[i+1] + `"`)
	}
	c.b.WriteString(` fill="currentColor" stroke="none">` + escape(s) + "</text>\n")
}

// mm writes a range of millimetres, to a thousandth, as the sanding check writes it.
func mm(r interval.Range) string {
	lo, hi := quantity.Number(round(r.Lo, 1000), 4), quantity.Number(round(r.Hi, 1000), 4)
	if lo == hi {
		return lo + "\u00a0mm"
	}
	return lo + "\u00a0to\u00a0" + hi + "\u00a0mm"
}

func round(v, per float64) float64 { return math.Round(v*per) / per }
