package cache

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
)

// Program is the fingerprint of the program that runs: a digest of its own file.
// What is wanted of a header, its limits and how it is read are all in there, so no
// number has to be raised by hand when one of them changes. A program that differs
// in anything reads every file once more.
func Program() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", fmt.Errorf("looking for the program's own file: %w", err)
	}
	f, err := os.Open(name)
	if err != nil {
		return "", fmt.Errorf("reading the program's own file: %w", err)
	}
	defer f.Close()
	digest := sha256.New()
	if _, err := io.Copy(digest, f); err != nil {
		return "", fmt.Errorf("reading the program's own file: %w", err)
	}
	return hex.EncodeToString(digest.Sum(nil)), nil
}
