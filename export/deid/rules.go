package deid

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"math/big"
	"regexp"
	"strings"
	"time"
)

// Rules apply one identity to values. They are made once for all outputs of a
// run, so that the same value has the same pseudonym in all of them.
type Rules struct {
	identity Identity
	key      []byte
	people   map[string]int
	order    int
	// withheld are the path elements named after a patient, in lower case.
	withheld map[string]bool
}

// New makes rules for an identity. The key serves the pseudonyms of None: whoever
// has it can tell which pseudonym belongs to a known value, so it is kept apart
// from the output. An empty key stands for a random one, which is forgotten: no
// later run then gives the same pseudonyms.
func New(identity Identity, key []byte) *Rules {
	if len(key) == 0 {
		key = make([]byte, sha256.Size)
		rand.Read(key) // never fails: crypto/rand ends the program instead
	}
	return &Rules{identity: identity, key: key, people: map[string]int{}, withheld: map[string]bool{}}
}

// Identity is what the rules were made for.
func (r *Rules) Identity() Identity { return r.identity }

// Text applies rule to a text about subject, which may be nil where the patient
// is not known. Empty stays empty.
func (r *Rules) Text(rule Rule, subject *Subject, s string) string {
	if s == "" || r.identity == Full {
		return s
	}
	if rule == Person {
		return r.persons(s)
	}
	if r.identity == None {
		return r.pseudonym(rule, s)
	}
	switch rule {
	case Path:
		return r.path(s)
	case Words:
		if subject.named(s) {
			return Withheld
		}
	}
	return s
}

// pseudonym applies rule under None.
func (r *Rules) pseudonym(rule Rule, s string) string {
	switch rule {
	case UID:
		return r.uid(s)
	case Code:
		return "id-" + r.short("code", s)
	case Device:
		return "sn-" + r.short("device", s)
	case Path:
		return "file-" + r.short("path", s)
	case Message:
		return uidPattern.ReplaceAllStringFunc(s, r.uid)
	case Words, Patient, Period:
		return ""
	}
	return s
}

// Time applies rule to a date or moment of subject. It is zero where it is left out.
func (r *Rules) Time(rule Rule, subject *Subject, t time.Time) time.Time {
	if rule == Period && r.identity == None {
		return time.Time{}
	}
	if rule != Stamp || r.identity != None || subject == nil {
		return t
	}
	return t.AddDate(0, 0, -7*r.weeks(subject.key))
}

// weeks is how far the dates of a patient are shifted, 1 to 52: one offset for
// all studies keeps every interval between them, whole weeks keep the weekday.
// Common practice, no source; PS3.15 E.3.6 names the option Modified Dates.
func (r *Rules) weeks(key string) int {
	sum := r.sum("weeks", key)
	return 1 + int(new(big.Int).Mod(new(big.Int).SetBytes(sum[:8]), big.NewInt(52)).Int64())
}

// structural is the root of the standard's own UIDs (classes, syntaxes), which
// identify nobody and are never replaced (PS3.15 E.1.1).
const structural = "1.2.840.10008."

// uidPattern finds UIDs in running text: five numbers or more with dots between.
var uidPattern = regexp.MustCompile(`\b[0-2](?:\.\d+){4,}\b`)

// uid maps a UID into the root 2.25, of UUIDs written as decimals (PS3.5 B.2).
// The UUID is the keyed hash with the marks of version 8 (RFC 9562 5.8).
func (r *Rules) uid(s string) string {
	if strings.HasPrefix(s, structural) {
		return s
	}
	uuid := r.sum("uid", s)[:16]
	uuid[6] = uuid[6]&0x0f | 0x80
	uuid[8] = uuid[8]&0x3f | 0x80
	return "2.25." + new(big.Int).SetBytes(uuid).String()
}

// short is the first 64 bits of the keyed hash, in hexadecimal.
func (r *Rules) short(domain, s string) string {
	return hex.EncodeToString(r.sum(domain, s)[:8])
}

// sum is HMAC-SHA-256 (RFC 2104) of a value within a domain: equal texts of
// different kinds get different pseudonyms.
func (r *Rules) sum(domain, s string) []byte {
	h := hmac.New(sha256.New, r.key)
	h.Write([]byte(domain))
	h.Write([]byte{0})
	h.Write([]byte(s))
	return h.Sum(nil)
}
