package audit

import "math/bits"

// cells is a set of the cells of a variable: the answers of a choice, yes and no, or the points and
// gaps between the numbers that a quantity is compared with. It is not changed once made.
type cells []uint64

// allOf is the set of the first n cells.
func allOf(n int) cells {
	c := make(cells, (n+63)/64)
	for i := range n {
		c[i/64] |= 1 << (i % 64)
	}
	return c
}

// cellsOf is the set of those of n cells that pass.
func cellsOf(n int, pass func(i int) bool) cells {
	c := make(cells, (n+63)/64)
	for i := range n {
		if pass(i) {
			c[i/64] |= 1 << (i % 64)
		}
	}
	return c
}

func (c cells) has(i int) bool { return c[i/64]&(1<<(i%64)) != 0 }

func (c cells) empty() bool {
	for _, w := range c {
		if w != 0 {
			return false
		}
	}
	return true
}

func (c cells) count() int {
	n := 0
	for _, w := range c {
		n += bits.OnesCount64(w)
	}
	return n
}

// within reports whether every cell of c is one of o.
func (c cells) within(o cells) bool {
	for i, w := range c {
		if w&^o[i] != 0 {
			return false
		}
	}
	return true
}

// meets reports whether c and o share a cell.
func (c cells) meets(o cells) bool {
	for i, w := range c {
		if w&o[i] != 0 {
			return true
		}
	}
	return false
}

func (c cells) and(o cells) cells {
	out := make(cells, len(c))
	for i, w := range c {
		out[i] = w & o[i]
	}
	return out
}

// without is what of c is not in o.
func (c cells) without(o cells) cells {
	out := make(cells, len(c))
	for i, w := range c {
		out[i] = w &^ o[i]
	}
	return out
}
