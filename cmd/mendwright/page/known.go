package page

import (
	"html/template"
	"sync"

	"mendwright/cmd/mendwright/drawing"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/engine"
	"mendwright/knowledge"
)

// maxTriages is how many triages are kept: a few for each person at work.
const maxTriages = 128

// triages keeps what the triage said last of marks, by the state of the file: the page after an answer
// needs what was said before it. Nobody may change what it gives. The zero value is ready.
type triages struct {
	mu    sync.Mutex
	said  map[string]*engine.Answer
	order []string // the oldest first
}

// of is the triage of one mark of a job whose file has the digest.
func (t *triages) of(k *knowledge.Loaded, digest string, job *engine.Job, mark string) (*engine.Answer, error) {
	key := digest + " " + mark
	t.mu.Lock()
	a, ok := t.said[key]
	t.mu.Unlock()
	if ok {
		return a, nil
	}
	a, err := engine.Triage(k.Book, k.Tables, sitting.OneMark(job, mark))
	if err != nil {
		return nil, err
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.said == nil {
		t.said = map[string]*engine.Answer{}
	}
	if _, ok := t.said[key]; !ok {
		t.order = append(t.order, key)
	}
	t.said[key] = a
	if len(t.order) > maxTriages {
		delete(t.said, t.order[0])
		t.order = t.order[1:]
	}
	return a, nil
}

// drawn keeps the pictures of answers once they are drawn, by fact and answer.
var drawn sync.Map

// pictureOf draws what an answer says, for who would rather look than read; "" if no picture shows it.
func pictureOf(fact, answer string) template.HTML {
	id, ok := drawing.For(fact, answer)
	if !ok {
		return ""
	}
	key := [2]string{fact, answer}
	if svg, ok := drawn.Load(key); ok {
		return svg.(template.HTML)
	}
	d, _ := drawing.Picture("p-"+answer, id)
	drawn.Store(key, d.SVG)
	return d.SVG
}
