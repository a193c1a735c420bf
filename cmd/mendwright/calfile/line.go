package calfile

import (
	"bufio"
	"strings"
	"unicode/utf8"
)

// longest is how many bytes a line may have without its end (RFC 5545, 3.1).
const longest = 75

// line writes a property, folded: what goes on in the next line stands there behind a space. A
// character is never cut in two. An error of the writer is told by its Flush.
func line(out *bufio.Writer, name, value string) {
	rest, room := name+":"+value, longest
	for len(rest) > room {
		cut := room
		for cut > 0 && !utf8.RuneStart(rest[cut]) {
			cut--
		}
		out.WriteString(rest[:cut] + "\r\n ")
		rest, room = rest[cut:], longest-1
	}
	out.WriteString(rest + "\r\n")
}

var escapes = strings.NewReplacer("\r\n", `\n`, "\n", `\n`, "\r", `\n`, `\`, `\\`, ";", `\;`, ",", `\,`)

// text is a text as a value (RFC 5545, 3.3.11). What is no UTF-8 is shown as such, and control
// characters, which the format does not know, become spaces.
func text(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f {
			return ' '
		}
		return r
	}, escapes.Replace(strings.ToValidUTF8(s, string(utf8.RuneError))))
}
