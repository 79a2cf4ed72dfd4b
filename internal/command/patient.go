package command

import (
	"context"
	"io"
)

// patient is a reader that stops waiting when the program is told to end, so that
// an interrupt at a question is not held up by a line that never comes.
type patient struct {
	ctx context.Context
	in  io.Reader
}

// Read reads from the terminal or returns the reason why the program ends. The
// read that nobody waits for any more ends with the program.
func (p *patient) Read(b []byte) (int, error) {
	type result struct {
		n   int
		err error
	}
	buf := make([]byte, len(b))
	done := make(chan result, 1)
	go func() {
		n, err := p.in.Read(buf)
		done <- result{n, err}
	}()
	select {
	case r := <-done:
		return copy(b, buf[:r.n]), r.err
	case <-p.ctx.Done():
		return 0, p.ctx.Err()
	}
}
