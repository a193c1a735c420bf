//go:build !race

package browser_test

const raced = false
