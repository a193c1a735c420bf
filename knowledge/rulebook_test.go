package knowledge_test

import (
	"testing"

	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules"
)

// TestRulebookIsSound verifies the built-in rulebook whole, so that running programs need not.
func TestRulebookIsSound(t *testing.T) {
	book, err := rules.Load(knowledge.Files())
	if err != nil {
		t.Fatal("\n" + err.Error())
	}
	tables, err := knowledge.Tables(book)
	if err != nil {
		t.Fatal(err)
	}
	// Every rule behaves as the cases beside it say, and they see every condition both ways.
	for _, e := range append(engine.CheckCases(book, tables), engine.CheckPairs(book, tables)...) {
		t.Error("\n" + e.Error())
	}
}
