// Package check asks the sanding check and the air check from texts as a person typed them, for the
// commands and the page alike.
package check

import "fmt"

// FieldError is a mistake in one field of a question.
type FieldError struct {
	Field string // by the name of its flag, such as "thickness"
	// Example is what could stand in a field that must be filled in and is not; then Err is nil.
	Example string
	Err     error
}

func (e *FieldError) Error() string {
	if e.Err == nil {
		return fmt.Sprintf("%s is missing; write it like %s", e.Field, e.Example)
	}
	return e.Field + ": " + e.Err.Error()
}

func (e *FieldError) Unwrap() error { return e.Err }
