package gallery

import (
	"clayline/webui/static"
	"clayline/webui/templates"
)

// shown stands for a photo: the gallery has none.
var shown = static.Href("favicon.svg")

// readings are those to which a photo may be attached.
func readings() []templates.Option {
	return []templates.Option{{Value: "8 188.02 ft", Text: "30 Ida Brandt: 188.02 ft, hook 8, round 1"}, {Value: "6 296.41 ft", Text: "38 Nora Quist: 296.41 ft, hook 6, round 1"}}
}

// photos are some that were attached.
func photos() []templates.Photo {
	return []templates.Photo{
		{Href: shown, Reading: "188.02 ft", Who: "30 Ida Brandt", Where: "hook 8, round 1", Time: "18:52"},
		{Href: shown, Reading: "187.9 ft", Who: "30 Ida Brandt", Where: "hook 8, round 1", Time: "18:51"},
	}
}

// boothPhotoError is the booth after a file that is no photo.
func boothPhotoError() templates.Booth {
	b := booth()
	b.Photos.Attach = filled("/booth/photo", map[string]string{templates.FieldReading: "6 296.41 ft"}, map[string]string{
		templates.FieldPhoto: "The file is no JPEG, PNG or WebP. Take the photo in one of these formats, or save it as one.",
	})
	return b
}
