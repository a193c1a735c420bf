//go:build !race

package page_test

const raced = false
