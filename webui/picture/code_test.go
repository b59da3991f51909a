package picture_test

import (
	"image"
	"image/color"
	"image/draw"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/webui/picture"
)

// steps are the black rectangles of a drawing.
var steps = regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-(\d+)z`)

// painted is the drawing of a code as a screen paints it, so many dots a module.
func painted(t require.TestingT, svg string, dots int) image.Image {
	side := regexp.MustCompile(`viewBox="0 0 (\d+) (\d+)"`).FindStringSubmatch(svg)
	require.NotNil(t, side)
	n, err := strconv.Atoi(side[1])
	require.NoError(t, err)
	canvas := image.NewGray(image.Rect(0, 0, n*dots, n*dots))
	draw.Draw(canvas, canvas.Bounds(), image.White, image.Point{}, draw.Src)
	black := svg[strings.Index(svg, "#000"):]
	for _, m := range steps.FindAllStringSubmatch(black, -1) {
		var at [4]int
		for i := range at {
			at[i], err = strconv.Atoi(m[i+1])
			require.NoError(t, err)
		}
		require.Equal(t, at[2], at[3], "a row ends where it began")
		draw.Draw(canvas, image.Rect(at[0]*dots, at[1]*dots, (at[0]+at[2])*dots, (at[1]+1)*dots), &image.Uniform{color.Black}, image.Point{}, draw.Src)
	}
	return canvas
}

// read is what a reader that is not ours finds in a picture.
func read(t require.TestingT, img image.Image) string {
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	require.NoError(t, err)
	result, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]interface{}{gozxing.DecodeHintType_PURE_BARCODE: true})
	require.NoError(t, err)
	return result.GetText()
}

func TestACodeIsReadByAnotherReader(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"https://pull.example/e/tarn-hollow-harvest-pull/pits",
		"http://192.168.1.20:8080/e/tarn-hollow-harvest-pull/8200-lb-field-stock",
		"https://pull.example/e/p%C3%BChl/36-t-visiting-tractors",
		"https://pull.example/" + strings.Repeat("long-name/", 60),
	} {
		svg, err := picture.Code(text)
		require.NoError(t, err)
		require.Equal(t, text, read(t, painted(t, svg, 4)))
		assert.NotContains(t, svg, "style", "nothing that the policy of the pages refuses")
	}
}

// Whatever address an event and a class have, the code of it is read back as that address, and the frame stays empty.
func TestEveryAddressIsReadBack(t *testing.T) {
	t.Parallel()
	address := rapid.StringMatching(`https?://[a-z0-9.-]{1,40}(:[0-9]{2,5})?/e/[a-z0-9-]{1,60}(/[a-z0-9%-]{1,60})?`)
	rapid.Check(t, func(t *rapid.T) {
		text := address.Draw(t, "address")
		svg, err := picture.Code(text)
		require.NoError(t, err)
		img := painted(t, svg, 2)
		require.Equal(t, text, read(t, img))
		end := img.Bounds().Max.X
		for i := range end {
			for j := range 2 * 4 {
				for _, at := range []image.Point{{i, j}, {j, i}, {i, end - 1 - j}, {end - 1 - j, i}} {
					require.Equal(t, color.Gray{Y: 255}, img.At(at.X, at.Y))
				}
			}
		}
	})
}

func TestATextThatIsTooLongIsRefused(t *testing.T) {
	t.Parallel()
	_, err := picture.Code(strings.Repeat("x", 5000))
	require.ErrorContains(t, err, "too long for a code")
	require.Equal(t, domain.Invalid, domain.KindOf(err))
}
