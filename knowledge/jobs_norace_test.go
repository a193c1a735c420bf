//go:build !race

package knowledge_test

// generated is how many jobs each property is tried on.
const generated = 10_000
