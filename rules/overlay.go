package rules

import (
	"io/fs"
	"slices"

	"mendwright/rules/strictyaml"
)

// Own says whether a rule is a shop's own; "" if it is built in. It is shown wherever the rule is.
type Own string

// What a shop's own rule may be.
const (
	Added    Own = "shop's own rule"
	Override Own = "shop's own rule, overrides built-in"
)

// LoadOver reads the rulebook in fsys with a shop's own rules, from the folder at, laid over it, and
// verifies both together. The shop's files lie in the same folders. They may add facts, findings, kinds,
// methods, warnings, tables and sources. A method or a kind of the same id as a built-in one stands in its
// place, as long as it takes nothing away that guards somebody (see guards); anything else of the same id
// as a built-in thing is refused. Nor may a shop's finding derive a built-in fact: bans rest on those.
func LoadOver(fsys, shop fs.FS, at string) (*Book, error) {
	return load(layer{fsys: fsys}, layer{fsys: shop, at: at})
}

// overridable are the sorts of rule that a shop's own of the same id may stand in the place of.
var overridable = map[string]bool{"method": true, "defect": true}

func (f *file) origin() Own {
	if f.own {
		return Added
	}
	return ""
}

// override puts a shop's own kinds and methods in the place of built-in ones of the same id.
func (l *loader) override() {
	b := l.book
	builtMethods, builtKinds := map[string]*Method{}, map[string]*Defect{}
	for _, m := range b.every {
		if m.Own == "" {
			builtMethods[m.ID] = m
		}
	}
	for _, d := range b.Defects {
		if d.Own == "" {
			builtKinds[d.ID] = d
		}
	}
	gone := map[any]bool{}
	for _, m := range b.every {
		if built := builtMethods[m.ID]; m.Own != "" && built != nil {
			m.Own, gone[built] = Override, true
			b.Overrides = append(b.Overrides, m.ID)
			l.errs = append(l.errs, guards(built, m)...)
		}
	}
	for _, d := range b.Defects {
		if built := builtKinds[d.ID]; d.Own != "" && built != nil {
			d.Own, gone[built] = Override, true
			b.Overrides = append(b.Overrides, d.ID)
			l.errs = append(l.errs, sameMark(built, d)...)
		}
	}
	b.every = slices.DeleteFunc(b.every, func(m *Method) bool { return gone[m] })
	b.Defects = slices.DeleteFunc(b.Defects, func(d *Defect) bool { return gone[d] })
	slices.Sort(b.Overrides)
	for _, f := range b.Findings {
		if fact := b.Facts[f.Derives]; f.Own != "" && fact != nil && fact.Own == "" {
			l.errs = append(l.errs, f.Pos.Error("%s is a built-in fact; a shop's finding derives a fact of its own", f.Derives))
		}
	}
}

// guards says what a shop's method lacks of what guards people and pieces in the built-in one: each
// condition of suits and never, what it gives off (warnings hang on that), what to wear, what is reckoned of
// it, and each harm, no less grave, no less likely and lowered by nothing else. It may have more of each.
func guards(built, own *Method) strictyaml.Errors {
	var errs strictyaml.Errors
	lacks := func(what string, args ...any) {
		errs = append(errs, own.Pos.Error("it overrides the built-in "+built.ID+" and lacks its "+what+"; a shop's own rule may add to what guards and take nothing away", args...))
	}
	clauses := func(key string, built, own []Clause) {
		for _, c := range built {
			if !slices.ContainsFunc(own, func(o Clause) bool { return alike(o.When, c.When) }) {
				lacks("%s: %s", key, c.When.Text)
			}
		}
	}
	clauses("suits", built.Suits, own.Suits)
	clauses("never", built.Never, own.Never)
	for _, e := range built.GivesOff {
		if !slices.Contains(own.GivesOff, e) {
			lacks("gives_off: %s", e)
		}
	}
	for _, p := range built.Protection {
		if !slices.Contains(own.Protection, p) {
			lacks("protection: %s", p)
		}
	}
	// What is reckoned of it bars it and warns.
	if built.Sanding != nil && (own.Sanding == nil || built.Sanding.ToDefect && !own.Sanding.ToDefect) {
		lacks("sanding")
	}
	if built.Vapour != nil && (own.Vapour == nil || *own.Vapour != *built.Vapour) {
		lacks("vapour")
	}
	if built.Coat != nil && (own.Coat == nil || *own.Coat != *built.Coat) {
		lacks("coat")
	}
	for _, h := range built.Harms {
		i := slices.IndexFunc(own.Harms, func(o Harm) bool { return o.ID == h.ID })
		if i < 0 {
			lacks("harm: %s", h.ID)
			continue
		}
		errs = append(errs, graver(&h, &own.Harms[i])...)
	}
	return errs
}

// graver says where a shop's harm is less than the built-in one.
func graver(built, own *Harm) strictyaml.Errors {
	var errs strictyaml.Errors
	fail := func(pos strictyaml.Pos, format string, args ...any) {
		errs = append(errs, pos.Error("the built-in harm "+built.ID+" "+format+"; a shop's own rule may make it worse and not better", args...))
	}
	if own.Severity > built.Severity || own.Probability > built.Probability {
		fail(own.Pos, "is %s and %s", Severities[built.Severity], Levels[built.Probability])
	}
	if own.From != built.From || own.ToPerson != built.ToPerson {
		fail(own.Pos, "says otherwise whom it befalls or what its probability comes from")
	}
	for _, r := range built.Raised {
		if !slices.ContainsFunc(own.Raised, func(o Shift) bool { return alike(o.When, r.When) && o.To <= r.To }) {
			fail(own.Pos, "is raised to %s when %s", Levels[r.To], r.When.Text)
		}
	}
	for _, o := range own.Lowered {
		if !slices.ContainsFunc(built.Lowered, func(l Shift) bool { return alike(o.When, l.When) && o.To <= l.To }) {
			fail(o.When.Pos, "is not lowered to %s by this", Levels[o.To])
		}
	}
	return errs
}

// alike reports whether two conditions are written alike; what is merely worth the same is not looked for.
func alike(a, b *Cond) bool {
	x, err := a.Compile()
	if err != nil {
		return false
	}
	y, err := b.Compile()
	return err == nil && x.Tree().String() == y.Tree().String()
}

// sameMark says where a shop's kind would know another mark than the built-in one, or make less of it. It
// may name it, tell it apart and judge it more gravely.
func sameMark(built, own *Defect) strictyaml.Errors {
	var errs strictyaml.Errors
	same := len(built.Signs) == len(own.Signs)
	for _, s := range built.Signs {
		same = same && slices.ContainsFunc(own.Signs, func(o Clause) bool { return alike(o.When, s.When) })
	}
	if !same {
		errs = append(errs, own.Pos.Error("it overrides the built-in %s and has other signs; a mark known by other signs is a kind with an id of its own", own.ID))
	}
	if slices.Index(Urgencies, own.Urgency) < slices.Index(Urgencies, built.Urgency) || slices.Index(Uses, own.Use) < slices.Index(Uses, built.Use) {
		errs = append(errs, own.Pos.Error("the built-in %s says urgency %s and use %s; a shop's own rule may be more careful and not less", own.ID, built.Urgency, built.Use))
	}
	return errs
}
