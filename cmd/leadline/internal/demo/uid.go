package demo

import (
	"crypto/sha256"
	"math/big"
	"strings"
)

// hashUID makes a UID below 2.25, the root of UUIDs written as one decimal number
// (PS3.5 B.2), from words: the same words give the same UID.
func hashUID(words ...string) string {
	sum := sha256.Sum256([]byte("leadline demo\x00" + strings.Join(words, "\x00")))
	id := sum[:16]
	// Version 8 and the variant of RFC 9562: a UUID of one's own making.
	id[6] = id[6]&0x0F | 0x80
	id[8] = id[8]&0x3F | 0x80
	return "2.25." + new(big.Int).SetBytes(id).String()
}
