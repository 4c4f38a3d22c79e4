package plan

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
)

// collections returns the folders of STL files that others have made: the npm package
// stl-models (MIT), from the folder that EVENWALL_STL_MODELS names or, where CI is set and
// npm is there, fetched; and the test data of the Go module that reads STL.
func collections(t *testing.T) []string {
	var folders []string
	switch models := os.Getenv("EVENWALL_STL_MODELS"); {
	case models != "":
		folders = append(folders, models)
	case os.Getenv("CI") != "":
		folders = append(folders, fetched(t))
	default:
		t.Log("NOT TESTED: the npm package stl-models; name its folder in EVENWALL_STL_MODELS, or set CI to have npm fetch it")
	}
	module, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/hschendel/stl").Output()
	if err != nil {
		t.Logf("NOT TESTED: the test data of the module that reads STL: %v", err)
		return folders
	}
	return append(folders, filepath.Join(strings.TrimSpace(string(module)), "testdata"))
}

// fetched returns a folder with the package, got by npm.
func fetched(t *testing.T) string {
	folder := t.TempDir()
	install := exec.Command("npm", "install", "--ignore-scripts", "--no-save", "--prefix", folder, "stl-models@0.12.0")
	if out, err := install.CombinedOutput(); err != nil {
		t.Skipf("NOT TESTED: npm could not fetch stl-models: %v\n%s", err, out)
	}
	return filepath.Join(folder, "node_modules", "stl-models")
}

// wrong is what must be said of the files that cannot be measured.
var wrong = map[string]string{
	"empty.stl":                    "is empty",
	"fourVertices.ascii.stl":       "cannot be read: facet 1",
	"incorrectFaceCounter.bin.stl": "says 66 facets and holds 4",
	"missingEndsolid.ascii.stl":    "ends after facet 4",
	"missingFace.ascii.stl":        "has a hole 14 mm across", // one side of a corner of 10 mm
	"missingNormal.ascii.stl":      "cannot be read: facet 4",
	"quad.ascii.stl":               "cannot be read: facet 1",
	"singleFace.ascii.stl":         "encloses no volume",
	"twoVertices.ascii.stl":        "cannot be read: facet 1",
	"faceless.ascii.stl":           "holds no facets",
	"multiWordName.bin.stl":        "49 bytes after its last facet",
	"triangle.ascii.stl":           "encloses no volume",
	"triangle.bin.stl":             "encloses no volume",
	"complex_ascii.stl":            "has two skins", // a hollow part, its skins joined
	"complex_bin.stl":              "has two skins",
}

// Every file gives an answer or the right error, in the first unit that makes it as large as
// a tank may be.
func TestCollectionsOfOthers(t *testing.T) {
	for _, folder := range collections(t) {
		err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
			if err == nil && filepath.Ext(path) == ".stl" {
				measureOther(t, path)
			}
			return err
		})
		require.NoError(t, err)
	}
}

func measureOther(t *testing.T, path string) {
	for _, unit := range []string{"mm", "cm", "m"} {
		j := parsed(t, fmt.Sprintf("job: 1\ntank: {surface: %q, unit: %s}\n", path, unit))
		answer, err := Measure(context.Background(), j, func(string, int, int) {})
		switch want, fails := wrong[filepath.Base(path)]; {
		case err != nil && strings.Contains(err.Error(), "no tank: say"):
			continue
		case fails:
			var faults *job.FaultsError
			assert.True(t, errors.As(err, &faults), path)
			assert.ErrorContains(t, err, want, path)
		default:
			if assert.NoError(t, err, path) {
				v := answer.Result.Volumes
				assert.InEpsilon(t, v.FacetsL, v.LatticeL, 0.01, path)
			}
		}
		return
	}
	assert.Fail(t, "no unit fits", path)
}
