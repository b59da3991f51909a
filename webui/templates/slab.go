package templates

import "strconv"

// Box is what lies in the box of a sled under a setting, as a picture and as a table.
type Box struct {
	Picture string // SVG, drawn here and not by anybody else
	Rows    []BoxRow
	Total   BoxRow
}

// BoxRow is one place of the box, or all of them.
type BoxRow struct {
	Place  string // "left"
	Slabs  string // "6 of 6"
	Which  string // "6 of 1,800 lb"; empty where nobody said what a slab weighs
	Weight string // "10,800 lb"
}

// SlabKind is one weight of slabs in the setting form, with the names of its three fields.
type SlabKind struct {
	Weight              string // "1,800 lb"; empty where the sled has one weight, or nobody said which
	Hint                string // "14 there are"
	Left, Middle, Right string // names of the fields
}

// SlabField is the name of the field for a place and the n-th weight of slabs of a sled, from 0: "left", "left2".
func SlabField(place string, n int) string {
	if n == 0 {
		return place
	}
	return place + strconv.Itoa(n+1)
}

// slabLabel labels the field of a place: "Slabs left", "1,800 lb left".
func (k SlabKind) slabLabel(place string) string {
	if k.Weight == "" {
		return "Slabs " + place
	}
	return k.Weight + " " + place
}
