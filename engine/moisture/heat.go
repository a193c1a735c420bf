package moisture

import (
	"mendwright/rules/interval"
)

// Where heat changes wood, in °C. Wet lignin softens at about 60 (hardwood) and 90 (softwood):
// Hamdan and others 2000, Holzforschung. At 100 free water leaves, and between 160 and 200 slow
// decomposition begins, from 225 the main one: Fire Science Reviews 2013 2:4, table 1. Browning
// within minutes from about 150 is trade experience. Keeping a face to 100 is a choice of this
// program: so long as the cloth is wet it gets no hotter.
const (
	HardwoodSoftens = 60
	SoftwoodSoftens = 90
	FaceLimit       = 100
	BrownsFrom      = 150
	CharsFrom       = 225
)

// Scorch is what a temperature does to the face of bare wood. The zero Scorch is ScorchUnknown.
type Scorch int

// What heat does, mildest first.
const (
	ScorchUnknown Scorch = iota // the range allows more than one of the others
	NoScorch                    // up to FaceLimit
	FaceDries                   // above FaceLimit: the water goes, and soon the face is as hot as the iron
	FaceBrowns                  // from BrownsFrom
	FaceChars                   // from CharsFrom
)

func (s Scorch) String() string {
	return [...]string{"unknown", "none", "dries", "browns", "chars"}[s]
}

// ScorchAt says what a temperature (°C, -50 to 1000) does to the face of bare wood, known only if
// the whole range agrees on it. Errors: a range outside these limits.
func ScorchAt(face interval.Range) (Scorch, error) {
	if err := check("temperature of the face", face, -50, 1000, "°C"); err != nil {
		return ScorchUnknown, err
	}
	if low := scorch(face.Lo); low == scorch(face.Hi) {
		return low, nil
	}
	return ScorchUnknown, nil
}

func scorch(celsius float64) Scorch {
	switch {
	case celsius <= FaceLimit+slack:
		return NoScorch
	case celsius < BrownsFrom-slack:
		return FaceDries
	case celsius < CharsFrom-slack:
		return FaceBrowns
	}
	return FaceChars
}

// Softens says whether what lies under a layer (glue, or the fibres themselves) lets go when the
// face is as hot as face (°C, -50 to 1000), given the range at which it softens (°C, -50 to 1000):
// No if the face stays below the whole range, for nothing under it gets hotter than the face; Yes
// if the face reaches all of it and the heat stays on; otherwise Unknown. A short touch heats the
// glue line less than the face, and no figure for by how much is known, so time does not count.
// Errors: a range outside these limits.
func Softens(from, face interval.Range) (Truth, error) {
	if err := check("softening", from, -50, 1000, "°C"); err != nil {
		return Unknown, err
	}
	if err := check("temperature of the face", face, -50, 1000, "°C"); err != nil {
		return Unknown, err
	}
	switch {
	case face.Lo >= from.Hi-slack:
		return Yes, nil
	case face.Hi < from.Lo-slack:
		return No, nil
	}
	return Unknown, nil
}
