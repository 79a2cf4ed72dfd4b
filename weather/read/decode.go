package read

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"unicode/utf8"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// plain returns the text of r as UTF-8 or Latin-1 lines: it undoes gzip, a byte
// order mark and UTF-16 with or without one, and says in words what it undid.
func plain(r io.Reader) (*bufio.Reader, []string, error) {
	var did []string
	b := bufio.NewReaderSize(r, 1<<16)
	head, err := b.Peek(512)
	if len(head) == 0 && err != nil && err != io.EOF {
		return nil, nil, err
	}
	if bytes.HasPrefix(head, []byte{0x1f, 0x8b}) {
		z, err := gzip.NewReader(b)
		if err != nil {
			return nil, nil, fmt.Errorf("this begins like a gzip file but is none: %w", err)
		}
		did = append(did, "gzip")
		b = bufio.NewReaderSize(z, 1<<16)
		head, _ = b.Peek(512)
	}
	switch order, mark := byteOrder(head); {
	case mark || order != nil:
		d := unicode.UTF16(*order, unicode.UseBOM)
		if !mark {
			d = unicode.UTF16(*order, unicode.IgnoreBOM)
		}
		did = append(did, "UTF-16")
		b = bufio.NewReaderSize(transform.NewReader(b, d.NewDecoder()), 1<<16)
	case bytes.HasPrefix(head, []byte{0xef, 0xbb, 0xbf}):
		did = append(did, "byte order mark")
		if _, err := b.Discard(3); err != nil {
			return nil, nil, err
		}
	}
	return b, did, nil
}

// byteOrder tells the byte order of UTF-16, from the mark or from where the zero
// bytes stand in text that is mostly ASCII; nil for anything else.
func byteOrder(head []byte) (order *unicode.Endianness, mark bool) {
	little, big := unicode.LittleEndian, unicode.BigEndian
	switch {
	case bytes.HasPrefix(head, []byte{0xff, 0xfe}):
		return &little, true
	case bytes.HasPrefix(head, []byte{0xfe, 0xff}):
		return &big, true
	case len(head) < 8:
		return nil, false
	}
	var zero [2]int
	for i, c := range head {
		if c == 0 {
			zero[i%2]++
		}
	}
	half := len(head) / 2
	switch {
	case zero[1] > half*3/4 && zero[0] == 0:
		return &little, false
	case zero[0] > half*3/4 && zero[1] == 0:
		return &big, false
	}
	return nil, false
}

// text returns a line as UTF-8; one that is not is taken as Latin-1.
func text(line []byte) string {
	if utf8.Valid(line) {
		return string(line)
	}
	out := make([]rune, len(line))
	for i, c := range line {
		out[i] = rune(c)
	}
	return string(out)
}
