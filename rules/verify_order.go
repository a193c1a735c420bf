package rules

import (
	"maps"
	"slices"

	"mendwright/rules/strictyaml"
)

func (v *verifier) ofOrder() {
	o := v.Order()
	for _, p := range o.Pairs {
		v.selector(p.Pos, p.First)
		v.selector(p.Pos, p.Next)
		v.cond(p.When, nil)
		for _, id := range p.Swap {
			v.methodID(p.Pos, id)
		}
		if len(p.Cases) < 2 {
			v.fail(p.Pos, "a pair has at least two cases: one that holds and one that does not")
		}
		for _, c := range p.Cases {
			v.methodID(c.Pos, c.First)
			v.methodID(c.Pos, c.Next)
		}
	}
	for _, c := range o.Chores {
		v.selector(c.Pos, c.With)
		v.cond(c.When, nil)
		v.materials(c.Pos, c.Materials)
	}
	for _, a := range o.Aftermaths {
		v.cond(a.When, nil)
		v.selector(a.Pos, a.Unless)
		for _, id := range slices.Sorted(maps.Keys(a.Mark)) {
			if v.Facts[id].Subject != "defect" {
				v.fail(a.Pos, "%s is not about a mark", id)
			}
		}
	}
	for _, m := range v.Methods() {
		v.materials(m.Pos, m.Materials)
	}
}

// selector checks that everything a selector names is there.
func (v *verifier) selector(pos strictyaml.Pos, s Selector) {
	for _, id := range append(slices.Clone(s.Methods), s.But...) {
		v.methodID(pos, id)
	}
	coats := map[string]bool{}
	for _, m := range v.Methods() {
		if m.Coat == nil {
			continue
		}
		coats[m.Coat.Of] = true
		if by := v.Facts[m.Coat.By]; by != nil {
			for _, id := range by.answerIDs() {
				coats[id] = true
			}
		}
	}
	for _, c := range s.Coats {
		if !coats[c] {
			v.fail(pos, "no method lays a coat %q%s", c, strictyaml.Nearest(c, slices.Sorted(maps.Keys(coats))))
		}
	}
}

func (v *verifier) methodID(pos strictyaml.Pos, id string) {
	if v.methods[id] == nil {
		v.fail(pos, "there is no method %q%s", id, strictyaml.Nearest(id, slices.Collect(maps.Keys(v.methods))))
	}
}

// materials checks that what is to be bought is among the goods.
func (v *verifier) materials(pos strictyaml.Pos, list []Material) {
	goods := slices.Sorted(maps.Keys(v.order.Goods))
	for _, u := range list {
		if u.Good != "" && v.order.Goods[u.Good] == nil {
			v.fail(pos, "there is no good %q to buy%s", u.Good, strictyaml.Nearest(u.Good, goods))
		}
		if u.By == "" {
			continue
		}
		by := v.Facts[u.By]
		if by == nil {
			v.fail(pos, "there is no fact %q to name what is bought%s", u.By, strictyaml.Nearest(u.By, slices.Collect(maps.Keys(v.Facts))))
			continue
		}
		for _, a := range by.answerIDs() {
			if v.order.Goods[a] == nil {
				v.fail(pos, "%s may be %q, and there is no such good to buy", u.By, a)
			}
		}
	}
}
