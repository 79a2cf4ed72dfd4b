package store

import (
	"bytes"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
)

// The chain of a garden ties each entry to all that arrived before it:
//
//	chain(n) = SHA-256(chain(n-1) ‖ open sum of entry n ‖ seal of entry n)
//
// with 32 zero bytes as chain(0). The seal is the HMAC-SHA-256 of the personal
// part under a random salt of 16 bytes, 32 zero bytes when there is none. A
// blanking deletes the personal part and the salt and leaves the seal: the chain
// still holds, and the seal cannot be used to try names against.

const saltSize = 16

var noSeal = make([]byte, sha256.Size)

// sealPersonal returns a new salt and the seal of a personal part.
func sealPersonal(personal []byte) (salt, seal []byte) {
	if personal == nil {
		return nil, noSeal
	}
	salt = make([]byte, saltSize)
	rand.Read(salt) // never fails
	return salt, sealWith(salt, personal)
}

func sealWith(salt, personal []byte) []byte {
	m := hmac.New(sha256.New, salt)
	m.Write(personal)
	return m.Sum(nil)
}

// nextChain returns the chain after an entry; before is nil for the first.
func nextChain(before, openSum, seal []byte) []byte {
	if before == nil {
		before = noSeal
	}
	sum := sha256.Sum256(bytes.Join([][]byte{before, openSum, seal}, nil))
	return sum[:]
}
