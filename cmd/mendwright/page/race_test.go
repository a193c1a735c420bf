//go:build race

package page_test

// raced says that the race detector watches.
const raced = true
