//go:build !race

package interview_test

const raced = false
