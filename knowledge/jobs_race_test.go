//go:build race

package knowledge_test

// The race detector slows a run tenfold; it looks for races, which show in far fewer jobs. The
// ordinary run tries each property on the full number.
const generated = 150
