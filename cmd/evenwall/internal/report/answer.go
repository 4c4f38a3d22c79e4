package report

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"sync"

	"evenwall/cmd/evenwall/internal/job"
)

// Answer is what a command found, to be printed and written.
type Answer struct {
	Result   Result
	Wall     []Patch   // wall.csv; nil: not written
	Layout   *job.Job  // layout.yaml; nil: not written
	Pictures []Picture // in the order in which they are written
	Papers   []Paper   // written after the pictures

	STL func() ([]byte, error) // the tank as a surface file, mm; nil: there is none
}

// Paper is a file to print, with its name.
type Paper struct {
	Name string // one of the program's own, such as sheet.pdf
	Data []byte
}

// Picture is an image with its file name.
type Picture struct {
	Name  string // one of the program's own, such as wall.png
	Image image.Image
}

// WriteAll puts a's files into f, result.json last. After an error, or when ctx ends,
// there is no result.json and no file that is not whole.
func (f *Folder) WriteAll(ctx context.Context, a *Answer) error {
	files, err := a.files(f.Dir)
	if err != nil {
		return err
	}
	for _, file := range files {
		if err := ctx.Err(); err != nil {
			return fmt.Errorf("interrupted before %s was written: %w", file.name, err)
		}
		if err := f.Write(file.name, file.data); err != nil {
			return err
		}
	}
	return nil
}

type file struct {
	name string
	data []byte
}

// encoded returns the pictures as PNG, in their order, encoded side by side.
func encoded(pictures []Picture) ([]file, error) {
	files, errs := make([]file, len(pictures)), make([]error, len(pictures))
	var all sync.WaitGroup
	for i, p := range pictures {
		all.Go(func() {
			var out bytes.Buffer
			encoder := png.Encoder{CompressionLevel: png.BestSpeed}
			if err := encoder.Encode(&out, p.Image); err != nil {
				errs[i] = fmt.Errorf("%s cannot be drawn: %w", p.Name, err)
			}
			files[i] = file{p.Name, out.Bytes()}
		})
	}
	all.Wait()
	return files, errors.Join(errs...)
}

// files encodes everything before anything is written.
func (a *Answer) files(dir string) ([]file, error) {
	var files, pictures []file
	var errPictures error
	var beside sync.WaitGroup
	beside.Go(func() { pictures, errPictures = encoded(a.Pictures) })
	if a.Wall != nil {
		data, err := WallCSV(a.Wall)
		if err != nil {
			return nil, err
		}
		files = append(files, file{WallFile, data})
	}
	if a.Layout != nil {
		files = append(files, file{LayoutFile, a.Layout.YAML(dir)})
	}
	if beside.Wait(); errPictures != nil {
		return nil, errPictures
	}
	files = append(files, pictures...)
	for _, p := range a.Papers {
		files = append(files, file{p.Name, p.Data})
	}
	data, err := a.Result.JSON()
	if err != nil {
		return nil, err
	}
	return append(files, file{ResultFile, data}), nil
}
