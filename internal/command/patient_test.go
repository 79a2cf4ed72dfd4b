package command

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"
)

func TestPatient(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	b, err := io.ReadAll(&patient{ctx, strings.NewReader("one\ntwo\n")})
	if err != nil || string(b) != "one\ntwo\n" {
		t.Errorf("%q %v", b, err)
	}
	// Nobody types, and the program is told to end.
	never, _ := io.Pipe()
	cancel()
	if _, err := (&patient{ctx, never}).Read(make([]byte, 10)); !errors.Is(err, context.Canceled) {
		t.Errorf("an interrupt at a question: %v", err)
	}
}
