package metal

import (
	"fmt"

	"mendwright/rules/interval"
)

// Stored is metal put away. The zero Stored is iron in a good state.
type Stored int

// What is stored.
const (
	SoundIron      Stored = iota
	UnstableIron          // it goes on rusting
	ChlorideBronze        // pale green pits that come back
)

// StorageHumidity is the relative humidity in percent to store a metal at. The error names an
// unknown kind. Source: V&A Conservation Journal 4 (1992), corrosion of metals associated with
// wood.
func StorageHumidity(s Stored) (interval.Range, error) {
	switch s {
	case SoundIron:
		return interval.Range{Lo: 0, Hi: 55}, nil
	case UnstableIron, ChlorideBronze:
		return interval.Range{Lo: 40, Hi: 45}, nil
	}
	return interval.Range{}, fmt.Errorf("read stored metal %d; expected sound iron, unstable iron or bronze with chlorides", int(s))
}

// Storage says where a relative humidity of 0 to 100 % lies against that: Above is too damp. The
// error names an unknown kind or a humidity out of range. Source: as StorageHumidity.
func Storage(s Stored, humidity interval.Range) (Place, error) {
	band, err := StorageHumidity(s)
	if err != nil {
		return Unsettled, err
	}
	if err := need("the relative humidity", "%", humidity, interval.Range{Lo: 0, Hi: 100}); err != nil {
		return Unsettled, err
	}
	return place(humidity, band), nil
}
