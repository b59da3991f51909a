// Package draw puts labels into a random order that anyone can recompute from a published seed.
//
// The order is that of the SHA-256 hashes of "seed|label", the smallest first. With the seed "dice 4 2 6" the
// label 41 is placed by
//
//	printf '%s|%s' 'dice 4 2 6' 41 | sha256sum
//
// and three labels come out as
//
//	41   1a2ecc87…
//	7    221b2a76…
//	23   27e16c85…
//
// docs/draw.md describes the draw for the people who are drawn. Nobody can steer it who does not know the
// labels before the seed, and an entry that is added later never changes the order of the others among
// themselves: each label is placed by its own hash alone. That is also why no shuffle is used, whose every step
// depends on how many there are.
package draw

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"
)

// Order returns the indexes of the labels in drawn order: the first of them is who hooks first. Labels must be
// unique; equal ones keep their order. It cannot fail, and neither the number of labels nor their order changes
// the result.
func Order(seed string, labels []string) []int {
	keys := make([][sha256.Size]byte, len(labels))
	order := make([]int, len(labels))
	for i, label := range labels {
		keys[i], order[i] = key(seed, label), i
	}
	slices.SortStableFunc(order, func(a, b int) int { return bytes.Compare(keys[a][:], keys[b][:]) })
	return order
}

// Key returns the lower-case hexadecimal hash that places a label, as sha256sum prints it.
func Key(seed, label string) string {
	k := key(seed, label)
	return hex.EncodeToString(k[:])
}

// key returns the hash that places a label, as bytes, which sort as their hexadecimal figures do.
func key(seed, label string) [sha256.Size]byte {
	return sha256.Sum256([]byte(Clean(seed) + "|" + label))
}

// Clean returns the seed as it enters the hash: without spaces at its ends, inner runs of spaces made one. A
// seed is read out and typed again, and spaces are what gets lost on the way; letters, case and accents are
// taken as they are.
func Clean(seed string) string { return strings.Join(strings.Fields(seed), " ") }
