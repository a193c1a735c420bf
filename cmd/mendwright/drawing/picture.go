package drawing

import "slices"

// picture is one of the drawings of marks, materials and makes that look alike.
type picture struct {
	id, title string
	tell      string   // how to tell it from what looks like it
	sources   []string // what that rests on, ids of knowledge/sources.yaml
	label     string   // a word or two below the drawing; may be empty
	draw      func(c *canvas)
}

// Size of a picture in units: 40 mm of paper, 120 points on a page. What it shows stands above its
// label.
const (
	picW, picH = 160.0, 112.0
	labelFoot  = 107.0
)

// pictures are all of them, in the order of their subjects.
var pictures = slices.Concat(sectionPictures, facePictures, finishPictures, edgePictures, veneerPictures, insectPictures, metalPictures, buildPictures)

// Pictures lists the ids of all pictures, in the order of their subjects.
func Pictures() []string {
	var ids []string
	for _, p := range pictures {
		ids = append(ids, p.id)
	}
	return ids
}

// Picture draws the picture of that id; ok is false if there is none. Its text says how to tell
// what it shows. Prefix begins the ids of the drawing.
func Picture(prefix, id string) (d Drawing, ok bool) {
	i := slices.IndexFunc(pictures, func(p picture) bool { return p.id == id })
	if i < 0 {
		return Drawing{}, false
	}
	p := pictures[i]
	c := newCanvas(prefix, picW, picH)
	c.color = onPaper
	c.solid(rect(0, 0, picW, picH), paper)
	p.draw(c)
	if p.label != "" {
		c.words("middle", picW/2, labelFoot, p.label)
	}
	d = c.done(p.title, p.tell)
	d.Sources = slices.Clone(p.sources)
	return d, true
}
