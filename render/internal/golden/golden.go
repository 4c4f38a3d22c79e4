// Package golden holds pictures drawn now against pictures looked at once and kept.
// Run a package's tests with -update to keep the new ones, after opening them.
package golden

import (
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
)

var update = flag.Bool("update", false, "keep the pictures drawn now as the golden ones")

// Tolerance says how far two pictures may be apart and still count as the same.
// The zero value allows no difference at all.
type Tolerance struct {
	Channel uint8   // largest difference of one 8-bit channel that still counts as equal
	Share   float64 // of all pixels that may differ by more than Channel, 0 to 1
}

// Reporter is what Compare needs of a test.
type Reporter interface {
	Helper()
	Errorf(format string, args ...any)
	Logf(format string, args ...any)
}

// Compare holds drawn against the PNG file at path and reports a difference beyond the
// tolerance, with the place of an image that shows it. With -update it writes the file.
func Compare(t Reporter, path string, drawn image.Image, tolerance Tolerance) {
	t.Helper()
	if *update {
		if err := write(path, drawn); err != nil {
			t.Errorf("keep %s: %v", path, err)
		}
		return
	}
	kept, err := read(path)
	if errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no golden picture %s: run with -update, open it, and keep it if it is right", path)
		return
	}
	if err != nil {
		t.Errorf("read %s: %v", path, err)
		return
	}
	if kept.Bounds().Size() != drawn.Bounds().Size() {
		t.Errorf("%s is %v pixels, drawn now are %v", path, kept.Bounds().Size(), drawn.Bounds().Size())
		return
	}
	share, difference := Difference(kept, drawn, tolerance.Channel)
	if share <= tolerance.Share {
		return
	}
	t.Errorf("%s: %.3f %% of the pixels differ by more than %d, allowed are %.3f %%",
		path, share*100, tolerance.Channel, tolerance.Share*100)
	show(t, filepath.Base(path), drawn, difference)
}

// Difference returns the share of pixels in which a channel of a and b, of equal size,
// differs by more than channel, and a picture of where: red on a pale copy of a.
func Difference(a, b image.Image, channel uint8) (share float64, where *image.RGBA) {
	size := a.Bounds().Size()
	where = image.NewRGBA(image.Rectangle{Max: size})
	count := 0
	for y := range size.Y {
		for x := range size.X {
			p := at(a, x, y)
			if apart(p, at(b, x, y)) > channel {
				count++
				where.SetRGBA(x, y, color.RGBA{220, 0, 0, 255})
				continue
			}
			pale := uint8(192 + (int(p.R)+int(p.G)+int(p.B))/12)
			where.SetRGBA(x, y, color.RGBA{pale, pale, pale, 255})
		}
	}
	return float64(count) / float64(max(1, size.X*size.Y)), where
}

// at returns the pixel x, y counted from the picture's own corner.
func at(m image.Image, x, y int) color.RGBA {
	corner := m.Bounds().Min
	return color.RGBAModel.Convert(m.At(corner.X+x, corner.Y+y)).(color.RGBA)
}

func apart(p, q color.RGBA) uint8 {
	return max(gap(p.R, q.R), gap(p.G, q.G), gap(p.B, q.B), gap(p.A, q.A))
}

func gap(p, q uint8) uint8 { return max(p, q) - min(p, q) }

// show leaves the drawn picture and the difference where a person can open them.
func show(t Reporter, name string, drawn, difference image.Image) {
	t.Helper()
	folder, err := os.MkdirTemp("", "evenwall-golden-")
	if err != nil {
		t.Logf("no difference image: %v", err)
		return
	}
	for prefix, picture := range map[string]image.Image{"drawn-": drawn, "difference-": difference} {
		path := filepath.Join(folder, prefix+name)
		if err := write(path, picture); err != nil {
			t.Logf("no difference image: %v", err)
			continue
		}
		t.Logf("see %s", path)
	}
}

func read(path string) (image.Image, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return png.Decode(file)
}

func write(path string, picture image.Image) (err error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	defer func() {
		if closing := file.Close(); err == nil && closing != nil {
			err = fmt.Errorf("close: %w", closing)
		}
	}()
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	return encoder.Encode(file, picture)
}
