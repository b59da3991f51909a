package domain

import (
	"bytes"
	"encoding/binary"
)

// PhotoShape says which format bytes are, by their first ones, and the pixels in width and height; 0 for a format that is not
// taken, and for pixels that the bytes do not say. It reads what says the size and decodes nothing: what is shown is the
// browser's business, and a photo is kept as it came. A camera that was held upright may have written width for height.
//
//	89 50 4e 47 0d 0a 1a 0a  00 00 00 0d 49 48 44 52  00 00 02 58  00 00 01 90 …     PhotoPNG, 600, 400
func PhotoShape(b []byte) (kind PhotoType, width, height int) {
	switch {
	case bytes.HasPrefix(b, []byte("\xff\xd8\xff")):
		width, height = jpegShape(b)
		return PhotoJPEG, width, height
	case bytes.HasPrefix(b, []byte("\x89PNG\r\n\x1a\n")):
		width, height = pngShape(b)
		return PhotoPNG, width, height
	case len(b) >= 12 && string(b[:4]) == "RIFF" && string(b[8:12]) == "WEBP":
		width, height = webpShape(b)
		return PhotoWebP, width, height
	default:
		return 0, 0, 0
	}
}

// jpegShape reads the frame header of a JPEG (ITU-T T.81, B.2.2). Segments lie one behind another, each with its length; the
// frame comes before the first scan, and a file that has none there is damaged.
func jpegShape(b []byte) (width, height int) {
	for i := 2; i+9 <= len(b) && b[i] == 0xff; {
		switch marker := b[i+1]; {
		case marker == 0xff: // a fill byte before a marker (B.1.1.2)
			i++
		case marker == 0x01 || marker >= 0xd0 && marker <= 0xd7: // markers without a length (B.1.1.3)
			i += 2
		case marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc:
			return int(binary.BigEndian.Uint16(b[i+7:])), int(binary.BigEndian.Uint16(b[i+5:]))
		case marker < 0xc0 || marker >= 0xd8 && marker <= 0xda:
			return 0, 0
		default:
			i += 2 + max(2, int(binary.BigEndian.Uint16(b[i+2:])))
		}
	}
	return 0, 0
}

// pngShape reads the header chunk of a PNG, which is the first (PNG specification, 11.2.1). Sides have 31 bits; one that says
// more is damaged.
func pngShape(b []byte) (width, height int) {
	if len(b) < 24 || string(b[12:16]) != "IHDR" {
		return 0, 0
	}
	return int(int32(binary.BigEndian.Uint32(b[16:]))), int(int32(binary.BigEndian.Uint32(b[20:]))) // #nosec G115 -- a negative side is refused
}

// webpShape reads the first chunk of a WebP, which is one of three (RFC 9649, 2.5 to 2.7): a lossy frame, a lossless one, or
// the header of the extended format.
func webpShape(b []byte) (width, height int) {
	if len(b) < 30 {
		return 0, 0
	}
	const side = 1<<14 - 1
	switch data := b[20:]; string(b[12:16]) {
	case "VP8 ":
		if string(data[3:6]) != "\x9d\x01\x2a" { // the start code of a key frame (RFC 6386, 9.1)
			return 0, 0
		}
		return int(binary.LittleEndian.Uint16(data[6:])) & side, int(binary.LittleEndian.Uint16(data[8:])) & side
	case "VP8L":
		if data[0] != 0x2f { // the signature of the lossless format (RFC 9649, 3.4)
			return 0, 0
		}
		bits := int(binary.LittleEndian.Uint32(data[1:]))
		return bits&side + 1, bits>>14&side + 1
	case "VP8X":
		return int(data[4]) | int(data[5])<<8 | int(data[6])<<16 + 1, int(data[7]) | int(data[8])<<8 | int(data[9])<<16 + 1
	default:
		return 0, 0
	}
}
