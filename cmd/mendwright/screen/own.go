package screen

import "strings"

// OwnRules says that a shop's own rules were laid over the built-in ones, and what they override.
func OwnRules(p *Page, dir string, overrides []string) {
	text := "With the shop's own rules from " + dir
	if len(overrides) > 0 {
		text += "; in the place of built-in ones: " + strings.Join(overrides, ", ")
	}
	p.Text(0, text+".")
	p.Blank()
}
