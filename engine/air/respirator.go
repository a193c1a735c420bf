package air

import (
	"cmp"
	"fmt"

	"mendwright/rules/interval"
)

// Respirator is a kind of mask.
type Respirator struct {
	APF      float64 // assigned protection factor, 29 CFR 1910.134
	Supplied bool    // air comes from elsewhere, not through a filter
	DustOnly bool    // a filter that takes no cartridge
}

// Wear is what somebody puts on. The zero Wear is nothing.
type Wear struct {
	Respirator string // key of Tables.Respirators
	Cartridge  string // what is screwed in, such as organic-vapour; "" for dust filters alone
}

// Fit says whether a mask may be worn against something.
type Fit struct {
	Highest float64  // ppm up to which it may be worn; 0 if it may not at all
	Refused []string // why it may not be worn here; empty if it may
}

// HighestUse returns up to what level a mask of the given protection factor (1 or more) may be worn
// against something with the given limit (above 0): their product, in the limit's unit, the rule
// by which the NIOSH pocket guide lists masks.
func HighestUse(apf float64, limit interval.Range) (interval.Range, error) {
	if err := cmp.Or(within("the protection factor", "", interval.Exact(apf), 1, 10000), above0("the limit", "", limit)); err != nil {
		return interval.Range{}, err
	}
	return scaled(limit, apf), nil
}

// Mask says whether a mask may be worn against ppm (0 or more) of a substance, at the worst ends. It refuses
// a substance that is unknown or has no limit, a cartridge against what no cartridge holds, the
// wrong one, dust filters, more than the protection factor allows, and anything at once dangerous.
// Fit test, training, shaved seal and air with 19.5 % oxygen or more are taken for granted. The
// error names an unknown respirator or says that ppm is out of range.
func (t Tables) Mask(w Wear, substance string, ppm interval.Range) (Fit, error) {
	mask, err := find(t.Respirators, "respirator", w.Respirator)
	if err := cmp.Or(err, atLeast0("the vapour", "ppm", ppm)); err != nil {
		return Fit{}, err
	}
	s, err := t.Substance(substance)
	if err != nil {
		return Fit{Refused: []string{"what is in the air is not known"}}, nil
	}
	var fit Fit
	refuse := func(format string, args ...any) { fit.Refused = append(fit.Refused, fmt.Sprintf(format, args...)) }
	switch {
	case mask.Supplied:
	case s.Cartridge == "none":
		refuse("no cartridge may be worn against %s: %s", substance, s.Because)
	case mask.DustOnly || w.Cartridge == "":
		refuse("a dust filter stops no vapour")
	case w.Cartridge != s.Cartridge:
		refuse("%s wants a cartridge for %s; this one is for %s", substance, s.Cartridge, w.Cartridge)
	}
	fits := len(fit.Refused) == 0
	limit, err := t.Tightest(substance)
	if err != nil {
		refuse("%s has no limit to reckon with", substance)
		return fit, nil
	}
	highest, err := HighestUse(mask.APF, limit)
	if err != nil {
		return Fit{}, err
	}
	may := highest.Lo
	if ppm.Hi > may {
		refuse("%s ppm is more than %s, which is %s times the limit", figure(ppm.Hi), figure(may), figure(mask.APF))
	}
	if idlh, ok := t.Limits[substance]["idlh"]; ok {
		least, err := idlh.ppm(s.Molar)
		if err != nil {
			return Fit{}, err
		}
		if ppm.Hi > least.Lo {
			refuse("%s ppm is at once dangerous to life or health; nobody stays", figure(ppm.Hi))
		}
		may = min(may, least.Lo)
	}
	if fits {
		fit.Highest = may
	}
	return fit, nil
}
