//go:build race

package interview_test

// raced says that the race detector watches.
const raced = true
