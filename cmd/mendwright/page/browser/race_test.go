//go:build race

package browser_test

// raced says that the race detector watches.
const raced = true
