package draw

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"unicode/utf8"
)

// minReveal is how long a text must be that was committed to, in characters: a short one could be guessed from its hash
// by trying.
const minReveal = 16

// Commit returns what is published before the draw about a text that stays secret until then: the SHA-256 hash of the
// text without stray spaces, in lower-case hexadecimal figures, as sha256sum prints it. Whoever holds the text cannot
// change it afterwards, and nobody can read it from the hash, if it is long and holds something random.
func Commit(text string) (string, error) {
	text = Clean(text)
	if utf8.RuneCountInString(text) < minReveal {
		return "", &Problem{"reveal", fmt.Sprintf("the secret text has fewer than %d characters and could be guessed", minReveal), "add random letters and figures to it"}
	}
	hash := sha256.Sum256([]byte(text))
	return hex.EncodeToString(hash[:]), nil
}

// ReadCommitment reads a published hash of 64 hexadecimal figures and returns it in small letters.
func ReadCommitment(text string) (string, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	if raw, err := hex.DecodeString(text); err != nil || len(raw) != sha256.Size {
		return "", &Problem{"commitment", "a commitment has 64 figures, 0 to 9 and a to f", "copy all of it; clayline draw commit makes one"}
	}
	return text, nil
}

// Seed returns the text that is drawn from. Without a commitment it is the public text alone. With one it is the public
// text, a bar, and the text that was committed to, which must be given then and must be the one: neither who keeps the
// secret nor who says the public text can steer the draw alone.
//
//	public "dice 4 2 6", revealed "grey heron 9f2c41d07be3"
//	drawn from "dice 4 2 6|grey heron 9f2c41d07be3"
func Seed(public, reveal, commitment string) (string, error) {
	public, reveal = Clean(public), Clean(reveal)
	switch {
	case public == "":
		return "", &Problem{"seed", "the seed is missing", "type words or dice that nobody could choose"}
	case commitment == "" && reveal != "":
		return "", &Problem{"reveal", "no commitment was published to the secret text", "leave the secret text out, or publish its commitment and draw later"}
	case commitment == "":
		return public, nil
	case reveal == "":
		return "", &Problem{"reveal", "the secret text of the commitment is missing", "type the text that was committed to"}
	}
	hash, err := Commit(reveal)
	if err != nil {
		return "", err
	}
	if hash != commitment {
		return "", &Problem{"reveal", "the secret text is not the one that was committed to", "type it exactly as it was when the commitment was made; letters and case count"}
	}
	return public + "|" + reveal, nil
}
