package rules_test

import (
	"io/fs"
	"maps"
	"testing"
	"testing/fstest"

	"mendwright/rules"
)

// FuzzLoad reads arbitrary bytes as one more method of the base: whatever they are, the answer
// is a rulebook or a reason, never both and never a crash.
//
// Files are parsed side by side, so that coverage flickers from run to run and the fuzzer spends
// its time on shortening; -fuzzminimizetime=5x keeps it trying new bytes.
func FuzzLoad(f *testing.F) {
	base := overlay(f, "base")
	for _, name := range []string{"methods/sand-down.yaml", "methods/rub-with-lemon.yaml", "methods/oil-over.yaml", "warnings/dust.yaml"} {
		f.Add(base[name].Data)
	}
	for _, seed := range []string{
		"",
		"\n",
		"sources: []\n",
		"method: more\nname: More\nwhat: More.\ntreats: [knife-cut]\nstage: wash\nachieves: holds\nundo: yes\nminutes: [0, 0, 0]\nsteps: []\nsources: []\n",
		"method: &a [*a]\nsources: [habit]\n",
		"method: more\nharms: [{harm: x, probability_from: sand.chance, lowered: [{when: shop.goggles, to: eliminated}]}]\nsources: [habit]\n",
		"method: more\ncases: [{that: x, given: {shop.air_c: 1/0}, then: ready}]\nsources: [habit]\n",
		"\"\\0\": \xff\n",
		"%YAML 9.9\n--- !x |\n\t\n...\n",
		"? [a]\n: {b: c}\r\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		files := maps.Clone(base)
		files["methods/more.yaml"] = &fstest.MapFile{Data: data}
		refused := false
		for _, name := range []string{"Load", "LoadTrusted"} {
			if refused {
				continue // what is said to be verified was
			}
			load := map[string]func(fs.FS) (*rules.Book, error){"Load": rules.Load, "LoadTrusted": rules.LoadTrusted}[name]
			book, err := load(files)
			refused = err != nil
			switch {
			case err == nil && book == nil:
				t.Errorf("%s gives neither a book nor a reason", name)
			case err == nil && book.Method("more") == nil:
				t.Errorf("%s gives a book without the method", name)
			case err != nil && book != nil:
				t.Errorf("%s gives a book and a reason against it: %s", name, err)
			case err != nil && err.Error() == "":
				t.Errorf("%s refuses without a reason", name)
			case err != nil && len(err.Error()) > 20000+20*len(data):
				t.Errorf("%s needs %d bytes to say what is wrong with %d", name, len(err.Error()), len(data))
			}
		}
	})
}
