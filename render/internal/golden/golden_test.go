package golden

import (
	"fmt"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// listener stands in for a test and keeps what it is told.
type listener struct{ errors, logs []string }

func (l *listener) Helper() {}
func (l *listener) Errorf(f string, args ...any) {
	l.errors = append(l.errors, fmt.Sprintf(f, args...))
}
func (l *listener) Logf(f string, args ...any) { l.logs = append(l.logs, fmt.Sprintf(f, args...)) }

func TestEqualPicturesPassAndOthersLeaveADifferenceImage(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	path := filepath.Join(t.TempDir(), "sub", "flag.png")
	require.NoError(t, write(path, flagOf(10)))

	var same listener
	Compare(&same, path, flagOf(10), Tolerance{})
	assert.Empty(t, same.errors)

	var near listener
	Compare(&near, path, flagOf(13), Tolerance{Channel: 3})
	assert.Empty(t, near.errors, "within the channel's tolerance")

	var far listener
	Compare(&far, path, flagOf(90), Tolerance{Channel: 3, Share: 0.49})
	require.Len(t, far.errors, 1, "half of the pixels differ")
	require.Len(t, far.logs, 2)
	for _, line := range far.logs {
		_, err := os.Stat(strings.TrimPrefix(line, "see "))
		assert.NoError(t, err)
	}
}

func TestMissingDamagedAndMissizedGoldensAreReported(t *testing.T) {
	folder := t.TempDir()
	var missing, damaged, size listener
	Compare(&missing, filepath.Join(folder, "none.png"), flagOf(1), Tolerance{})
	assert.Contains(t, strings.Join(missing.errors, ""), "-update")

	broken := filepath.Join(folder, "broken.png")
	require.NoError(t, os.WriteFile(broken, []byte("no picture"), 0o644))
	Compare(&damaged, broken, flagOf(1), Tolerance{Channel: 255, Share: 1})
	assert.Len(t, damaged.errors, 1)

	small := filepath.Join(folder, "small.png")
	require.NoError(t, write(small, image.NewRGBA(image.Rect(0, 0, 3, 3))))
	Compare(&size, small, flagOf(1), Tolerance{Channel: 255, Share: 1})
	assert.Len(t, size.errors, 1)
}

// flagOf returns an 8 x 8 picture, its left half with the given red.
func flagOf(red uint8) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, 8, 8))
	for y := range 8 {
		for x := range 8 {
			c := color.RGBA{200, 200, 200, 255}
			if x < 4 {
				c.R = red
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}
