package air

// DCMWork is a job of stripping paint with dichloromethane in the United States. The zero DCMWork is a
// person at home.
type DCMWork struct {
	Paid          bool    // refinishing for customers
	Historic      bool    // wooden furniture, decorative pieces or fixtures of artistic, cultural or historic value
	RegulatedArea bool    // marked off, nobody else inside
	LocalExhaust  bool    // caught at the work, with air made up
	SuppliedAPF   float64 // protection factor of the supplied-air mask; 0 without
	Records       bool    // exposure watched and written down
}

// DCMRefused returns why a job may not use dichloromethane under 40 CFR 751.117; nothing if it may. The
// protection factor of 50 is what the rule asks without measurements that allow less.
func DCMRefused(w DCMWork) []string {
	if !w.Paid {
		return []string{"nobody may sell or use it for stripping paint at home"}
	}
	var because []string
	for _, need := range []struct {
		met bool
		say string
	}{
		{w.Historic, "only pieces of artistic, cultural or historic value may still be stripped with it"},
		{w.RegulatedArea, "it needs a marked area that others keep out of"},
		{w.LocalExhaust, "it needs exhaust at the work, with make-up air"},
		{w.SuppliedAPF >= 50, "it needs supplied air with a protection factor of 50"},
		{w.Records, "it needs measured exposure and records"},
	} {
		if !need.met {
			because = append(because, need.say)
		}
	}
	return because
}
