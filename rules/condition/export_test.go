package condition

// Written is a condition taken apart and written again.
func Written(c *Condition) string { return c.Tree().String() }

// Judged is how a condition that was taken apart comes out.
func Judged(c *Condition, lookup Lookup) Outcome { return c.Tree().eval(lookup) }
