package gallery

import (
	"clayline/domain"
	"clayline/webui/picture"
	"clayline/webui/templates"
)

// lie is what lies in one place of the box in the pictures: so many slabs of 1,800 lb where there is room for so many,
// and so many of 900 lb on top.
func lie(name string, heavy, light, room int, weight string) domain.PlaceLoad {
	p := domain.PlaceLoad{Name: name, Slabs: heavy + light, Room: room, Weight: pounds(weight)}
	for _, l := range []domain.Layer{{Weight: pounds("1800 lb"), Count: heavy}, {Weight: pounds("900 lb"), Count: light}} {
		if l.Count > 0 {
			p.Layers = append(p.Layers, l)
		}
	}
	return p
}

// pounds is a weight of the pictures.
func pounds(text string) domain.Weight {
	w, _ := domain.ParseWeight(text) // what is wrong shows as nothing, and a test looks at every page
	return w
}

// box is the box of the setting in the pictures: twelve slabs, six on each side.
func box() *templates.Box {
	load := domain.BoxLoad{Slabs: 12, Weight: pounds("21600 lb"), WithBox: pounds("23100 lb"), Most: pounds("25200 lb"),
		Places: []domain.PlaceLoad{lie("left", 6, 0, 6, "10800 lb"), lie("middle", 0, 0, 2, ""), lie("right", 6, 0, 6, "10800 lb")}}
	return &templates.Box{
		Picture: picture.Box{Load: load, Balance: "left and right the same"}.SVG(),
		Rows: []templates.BoxRow{
			{Place: "left", Slabs: "6 of 6", Which: "6 of 1,800 lb", Weight: "10,800 lb"}, {Place: "middle", Slabs: "0 of 2"},
			{Place: "right", Slabs: "6 of 6", Which: "6 of 1,800 lb", Weight: "10,800 lb"},
		},
		Total: templates.BoxRow{Place: "all", Slabs: "12", Weight: "21,600 lb"},
	}
}

// boxMixed is a box with slabs of two weights and one side heavier.
func boxMixed() *templates.Box {
	load := domain.BoxLoad{Slabs: 12, Weight: pounds("19800 lb"), Most: pounds("25200 lb"),
		Places: []domain.PlaceLoad{lie("left", 6, 0, 8, "10800 lb"), lie("middle", 0, 1, 2, "900 lb"), lie("right", 4, 1, 8, "8100 lb")}}
	return &templates.Box{
		Picture: picture.Box{Load: load, Balance: "left has 2,700 lb more than right"}.SVG(),
		Rows: []templates.BoxRow{
			{Place: "left", Slabs: "6 of 8", Which: "6 of 1,800 lb", Weight: "10,800 lb"}, {Place: "middle", Slabs: "1 of 2", Which: "1 of 900 lb", Weight: "900 lb"},
			{Place: "right", Slabs: "5 of 8", Which: "4 of 1,800 lb, 1 of 900 lb", Weight: "8,100 lb"},
		},
		Total: templates.BoxRow{Place: "all", Slabs: "12", Weight: "19,800 lb"},
	}
}

// slabKinds are the fields of a sled whose slabs have one weight, or two.
func slabKinds(two bool) []templates.SlabKind {
	list := []templates.SlabKind{
		{Hint: "There are 14 of 1,800 lb.", Left: templates.FieldLeft, Middle: templates.FieldMiddle, Right: templates.FieldRight},
		{Weight: "900 lb", Hint: "There are 4 of 900 lb.", Left: "left2", Middle: "middle2", Right: "right2"},
	}
	if two {
		list[0].Weight = "1,800 lb"
		return list
	}
	return list[:1]
}
