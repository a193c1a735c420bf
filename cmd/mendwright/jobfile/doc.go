package jobfile

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"mendwright/cmd/mendwright/jobfile/whole"
	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// ErrChanged says that another program changed the file since it was opened. Nothing was
// overwritten.
var ErrChanged = whole.ErrChanged

// Doc is a job file open for editing. What an edit does not concern stays in the file byte for
// byte, comments and fields that this program does not know included. A method that returns an
// error has changed nothing. Nothing is on the disk before Save.
//
// Who and what an answer is about is named as in Understood: of is "piece", "shop", the name of
// a surface or the id of a defect, and fact is the whole id, such as surface.layer.
type Doc struct {
	path   string
	book   *rules.Book
	tables *engine.Tables
	text   *strictyaml.Text
	stamp  whole.Stamp // of the file on the disk
	saved  []byte
}

// order is that of the parts of a job file.
var order = []string{"format", "piece", "shop", "surfaces", "defects", "plan"}

// Open opens the job file at path. It may have mistakes in its answers, which Read reports and
// Set can mend; one that is no YAML mapping, or of another format, is refused.
func Open(path string, book *rules.Book, tables *engine.Tables) (*Doc, error) {
	data, stamp, err := whole.Read(path, MaxBytes)
	if err != nil {
		return nil, fmt.Errorf("job file: %w", err)
	}
	return open(path, data, stamp, book, tables)
}

// New begins a job file at path, where none may be yet.
func New(path string, book *rules.Book, tables *engine.Tables) (*Doc, error) {
	if _, err := os.Lstat(path); err == nil {
		return nil, fmt.Errorf("job file: there is a file %s already; open it, or choose another name", path)
	}
	return open(path, []byte("format: "+Format+"\n"), whole.Stamp{}, book, tables)
}

func open(path string, data []byte, stamp whole.Stamp, book *rules.Book, tables *engine.Tables) (*Doc, error) {
	name := filepath.ToSlash(path)
	parsed := strictyaml.Parse(name, data, strictyaml.Options{MaxBytes: MaxBytes})
	if parsed.Errs() == nil {
		checkFormat(parsed.Top())
	}
	if errs := parsed.Errs(); errs != nil {
		return nil, errs
	}
	text, err := strictyaml.Edit(name, data, strictyaml.Options{MaxBytes: MaxBytes}, order...)
	if err != nil {
		return nil, err
	}
	d := &Doc{path: path, book: book, tables: tables, text: text, stamp: stamp}
	if stamp != (whole.Stamp{}) {
		d.saved = data
	}
	return d, nil
}

// Path is where Save writes to.
func (d *Doc) Path() string { return d.path }

// Read reads the job as it is now, saved or not. Its mistakes are those of the function Read, but
// for fields that this program does not know: those are kept and listed under Unread.
func (d *Doc) Read() (*File, error) {
	return read(filepath.ToSlash(d.path), d.text.Bytes(), &reader{book: d.book, tables: d.tables, lenient: true})
}

// Digest tells the states of the file apart: it is the same as long as the text is.
func (d *Doc) Digest() string {
	sum := sha256.Sum256(d.text.Bytes())
	return hex.EncodeToString(sum[:16])
}

// Unsaved reports whether the file on the disk, as it was last read or written, lacks an edit.
func (d *Doc) Unsaved() bool { return !bytes.Equal(d.text.Bytes(), d.saved) }

// Save writes the file whole or not at all; the file as it was stays beside it as NAME.bak. The
// error is ErrChanged if another program changed the file since; the edits are still here then,
// and SaveAs can write them elsewhere.
func (d *Doc) Save() error {
	data := d.text.Bytes()
	stamp, err := whole.Write(d.path, data, d.stamp)
	written := err == nil || stamp != d.stamp
	if written {
		d.stamp, d.saved = stamp, data
	}
	switch {
	case errors.Is(err, ErrChanged):
		return fmt.Errorf("job file %s: %w; nothing was overwritten. Save these answers under another name, or open the file again and give them anew", d.path, err)
	case err != nil && written:
		return fmt.Errorf("job file %s: %w", d.path, err)
	case err != nil:
		return fmt.Errorf("job file %s is not saved, what was saved last stands: %w", d.path, err)
	}
	return nil
}

// SaveAs saves under another name, which no file may have yet; from then on the Doc is that file.
func (d *Doc) SaveAs(path string) error {
	stamp, err := whole.Write(path, d.text.Bytes(), whole.Stamp{})
	if errors.Is(err, ErrChanged) {
		return fmt.Errorf("job file: there is a file %s already; choose another name", path)
	}
	if err != nil {
		return fmt.Errorf("job file %s is not saved: %w", path, err)
	}
	d.path, d.stamp, d.saved = path, stamp, d.text.Bytes()
	return nil
}

// Set writes an answer as a person typed it: one text for most facts, any number for a several-of
// fact. The error is that of the fact (rules.Fact.ReadAnswer), or says that there is no such fact
// or thing. An answer that says something else than the one before is no longer confirmed.
func (d *Doc) Set(of, fact string, texts ...string) error {
	f, path, err := d.locate(of, fact)
	if err != nil {
		return err
	}
	v, err := answerValue(f, texts)
	if err != nil {
		return err
	}
	return d.edit(func() error {
		if err := d.withdraw(path, f, texts); err != nil {
			return err
		}
		return d.text.Put(path, v)
	})
}

// answerValue is an answer as it is written.
func answerValue(f *rules.Fact, texts []string) (strictyaml.Value, error) {
	_, known, err := f.ReadAnswer(texts...)
	if err != nil {
		return strictyaml.Value{}, err
	}
	if !known {
		return strictyaml.Scalar(cannotTell), nil
	}
	var values []strictyaml.Value
	for _, text := range texts {
		values = append(values, strictyaml.Scalar(strings.TrimSpace(text)))
	}
	if len(values) == 1 {
		return values[0], nil
	}
	return strictyaml.List(values...), nil
}

const cannotTell = "cannot tell"

// CannotTell writes that a fact was looked at and not settled.
func (d *Doc) CannotTell(of, fact string) error { return d.Set(of, fact, cannotTell) }

// Clear takes an answer away, and its confirmation; that there is none is no mistake.
func (d *Doc) Clear(of, fact string) error {
	f, path, err := d.locate(of, fact)
	if err != nil {
		return err
	}
	return d.edit(func() error {
		if err := d.withdraw(path, f, []string{cannotTell}); err != nil {
			return err
		}
		return d.text.Remove(path)
	})
}

// Confirm writes that an answer stands against a finding that says otherwise.
func (d *Doc) Confirm(of, fact string) error {
	f, path, err := d.locate(of, fact)
	if err != nil {
		return err
	}
	if _, known := d.answer(path, f); !known {
		return fmt.Errorf("there is no answer to %s to confirm", fact)
	}
	name, list := path[len(path)-1].(string), confirmed(path)
	if slices.Contains(d.texts(list), name) {
		return nil
	}
	return d.text.Append(list, strictyaml.Scalar(name))
}

// answer is the answer at path, if it is there and says something.
func (d *Doc) answer(path strictyaml.Path, f *rules.Fact) (v condition.Value, known bool) {
	if _, ok := d.text.At(path); !ok {
		return v, false
	}
	v, known, err := f.ReadAnswer(d.texts(path)...)
	return v, known && err == nil
}

// confirmed is where the confirmations beside an answer stand.
func confirmed(answer strictyaml.Path) strictyaml.Path {
	return append(slices.Clone(answer[:len(answer)-1]), "confirmed")
}

// withdraw takes away the confirmation of an answer that is about to become that of texts.
func (d *Doc) withdraw(path strictyaml.Path, f *rules.Fact, texts []string) error {
	name, list := path[len(path)-1].(string), confirmed(path)
	all := d.texts(list)
	before, known := d.answer(path, f)
	after, still, _ := f.ReadAnswer(texts...)
	if !slices.Contains(all, name) || known && still && before.Equal(after) {
		return nil
	}
	var left []strictyaml.Value
	for _, t := range all {
		if t != name {
			left = append(left, strictyaml.Scalar(t))
		}
	}
	if v, _ := d.text.At(list); len(v.OneOrMore()) != len(all) {
		return v.Pos().Error("expected a list of facts, of which %q would go", name)
	}
	if len(left) == 0 {
		return d.text.Remove(list)
	}
	return d.text.Put(list, strictyaml.List(left...))
}

// texts are the texts of the value or the list at path.
func (d *Doc) texts(path strictyaml.Path) []string {
	v, ok := d.text.At(path)
	if !ok {
		return nil
	}
	var out []string
	for _, e := range v.OneOrMore() {
		if t, ok := e.Scalar(); ok {
			out = append(out, t)
		}
	}
	return out
}

// edit runs several changes as one.
func (d *Doc) edit(do func() error) error {
	before := *d.text
	err := do()
	if err != nil {
		*d.text = before
	}
	return err
}

// locate finds a fact and where its answer stands or would stand.
func (d *Doc) locate(of, fact string) (*rules.Fact, strictyaml.Path, error) {
	subject, name, _ := strings.Cut(fact, ".")
	f, err := asked(d.book, subject, name)
	if err != nil {
		return nil, nil, err
	}
	var at strictyaml.Path
	switch subject {
	case "surface":
		at = strictyaml.Path{"surfaces", of}
		if _, ok := d.text.At(at); !ok {
			return nil, nil, fmt.Errorf("there is no surface %q in the file%s", of, strictyaml.Nearest(of, d.surfaces()))
		}
	case "defect":
		i := slices.Index(d.defects(), of)
		if i < 0 || of == "" {
			return nil, nil, fmt.Errorf("there is no defect %q in the file%s", of, strictyaml.Nearest(of, d.defects()))
		}
		at = strictyaml.Path{"defects", i}
	default:
		if of != subject {
			return nil, nil, fmt.Errorf("%s is about the %s, not about %q", fact, subject, of)
		}
		at = strictyaml.Path{subject}
	}
	return f, append(at, name), nil
}
