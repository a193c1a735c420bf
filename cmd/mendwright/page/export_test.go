package page

import (
	"net"
	"time"
)

// SetFormTime shortens the time that a form may take and returns how to undo it.
func SetFormTime(d time.Duration) (undo func()) {
	old := formTime
	formTime = d
	return func() { formTime = old }
}

// Limit bounds the connections of a listener.
var Limit = func(l net.Listener, most int) net.Listener { return limit(l, most) }

// PathOf joins the segments of an address.
var PathOf = pathOf

// Named undoes the guard on a segment.
var Named = named
