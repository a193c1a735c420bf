package page

import (
	"net"
	"sync"
)

// limited accepts at most as many connections at once as it has room for; more wait in the system's queue.
type limited struct {
	net.Listener
	room chan struct{}
}

// limit bounds the connections that are open at once on l.
func limit(l net.Listener, most int) net.Listener {
	return &limited{l, make(chan struct{}, most)}
}

func (l *limited) Accept() (net.Conn, error) {
	l.room <- struct{}{}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.room
		return nil, err
	}
	return &counted{Conn: c, leave: sync.OnceFunc(func() { <-l.room })}, nil
}

// counted is a connection that makes room once when it is closed.
type counted struct {
	net.Conn
	leave func()
}

func (c *counted) Close() error {
	err := c.Conn.Close()
	c.leave()
	return err
}
