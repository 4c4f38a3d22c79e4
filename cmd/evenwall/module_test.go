package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// moduleRoot is where the module's go.mod stands, as seen from this package.
const moduleRoot = "../.."

// source is a file of the program, without tests.
type source struct {
	path    string // from the module's root, with forward slashes
	pack    string // folder of the package, likewise
	imports []string
	file    *ast.File
	set     *token.FileSet
}

// sources parses every Go file of the module that is no test and no test's data.
func sources(t *testing.T) []source {
	var all []source
	err := filepath.WalkDir(moduleRoot, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == ".git") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(moduleRoot, path)
		if err != nil {
			return err
		}
		s := source{path: filepath.ToSlash(name), pack: filepath.ToSlash(filepath.Dir(name)), file: file, set: set}
		for _, i := range file.Imports {
			imported, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			s.imports = append(s.imports, imported)
		}
		all = append(all, s)
		return nil
	})
	require.NoError(t, err)
	require.NotEmpty(t, all)
	return all
}

// mayImport is the direction of the module: geometry <- field <- render <- cmd. A row
// that ends in "/..." is for the packages below that have no row of their own; listed,
// it takes in the package and all below it.
var mayImport = map[string][]string{
	"geometry":          {},
	"geometry/...":      {"geometry/..."},
	"geometry/lattice":  {"geometry"},
	"geometry/polygon":  {},
	"geometry/topology": {"geometry"},
	"geometry/shape":    {"geometry", "geometry/carve", "geometry/polygon"},
	"geometry/stlfile":  {"geometry", "geometry/topology"},
	"geometry/openings": {"geometry", "geometry/topology"},
	"geometry/vessel":   {"geometry", "geometry/lattice", "geometry/topology"},

	"field":           {"geometry", "geometry/lattice", "geometry/vessel", "field/electrode", "field/multigrid"},
	"field/...":       {"geometry/...", "field/..."},
	"field/table":     {"geometry/...", "field/..."},
	"field/electrode": {},
	"field/bath":      {},
	"field/bath/...":  {"field/bath/..."},
	"field/multigrid": {"geometry/lattice"},

	"render":     {"geometry", "render/..."},
	"render/...": {"geometry", "render/..."},

	"cmd/evenwall":                   {"cmd/evenwall/internal/..."},
	"cmd/evenwall/internal/job":      {"geometry", "geometry/shape", "geometry/stlfile", "field/bath/...", "field/electrode"},
	"cmd/evenwall/internal/report":   {"geometry", "cmd/evenwall/internal/job"},
	"cmd/evenwall/internal/units":    {"field/bath"},
	"cmd/evenwall/internal/readings": {"field/bath"},
	"cmd/evenwall/internal/bench":    {"geometry", "field/bath/...", "cmd/evenwall/internal/job", "cmd/evenwall/internal/readings"},
	"cmd/evenwall/internal/paper":    {"geometry", "field/bath", "cmd/evenwall/internal/job", "cmd/evenwall/internal/bench", "cmd/evenwall/internal/units"},
	"cmd/evenwall/internal/plan":     {"geometry/...", "field/...", "render/...", "cmd/evenwall/internal/..."},
}

// ownedBy names the rooms that may know a library.
var ownedBy = map[string][]string{
	"github.com/hschendel/stl":        {"geometry/stlfile"},
	"github.com/goccy/go-yaml":        {"cmd/evenwall/internal/job"},
	"github.com/agnivade/levenshtein": {"cmd/evenwall/internal/job"},
	"github.com/google/renameio/v2":   {"cmd/evenwall/internal/report"},
	"github.com/spf13/cobra":          {"cmd/evenwall"},
	"github.com/schollz/progressbar":  {"cmd/evenwall"},
	"github.com/fogleman/gg":          {"render"},
	"golang.org/x/image":              {"render", "cmd/evenwall/internal/paper"},
	"github.com/go-pdf/fpdf":          {"cmd/evenwall/internal/paper"},
	"github.com/rogpeppe/go-internal": {"tests"},
	"github.com/stretchr/testify":     {"tests"},
	"pgregory.net/rapid":              {"tests"},
}

func TestImportsRunOneWay(t *testing.T) {
	for _, s := range sources(t) {
		allowed, ok := mayImport[rowOf(s.pack)]
		if !assert.True(t, ok, "%s: no row says what %s may import", s.path, s.pack) {
			continue
		}
		for _, imported := range s.imports {
			inside, ours := strings.CutPrefix(imported, "evenwall/")
			assert.True(t, !ours || covers(allowed, inside), "%s imports %s: %s may import %v", s.path, inside, rowOf(s.pack), allowed)
		}
	}
}

func TestLibrariesStayInTheirRoom(t *testing.T) {
	for _, s := range sources(t) {
		for _, imported := range s.imports {
			for library, rooms := range ownedBy {
				knows := slices.ContainsFunc(rooms, func(room string) bool { return under(s.pack, room) })
				assert.True(t, knows || !under(imported, library), "%s imports %s, which only %v may know", s.path, imported, rooms)
			}
		}
	}
}

// rowOf returns the row of the table for pack: its own, or that of the nearest room.
func rowOf(pack string) string {
	if _, ok := mayImport[pack]; ok {
		return pack
	}
	for room := pack; room != "."; {
		room = filepath.ToSlash(filepath.Dir(room))
		if _, ok := mayImport[room+"/..."]; ok {
			return room + "/..."
		}
	}
	return ""
}

func covers(allowed []string, pack string) bool {
	return slices.ContainsFunc(allowed, func(a string) bool {
		all, below := strings.CutSuffix(a, "/...")
		return pack == a || below && under(pack, all)
	})
}

// under reports whether path is folder or lies below it.
func under(path, folder string) bool { return path == folder || strings.HasPrefix(path, folder+"/") }

// neverSaid are the words that promise what no computation can.
var neverSaid = regexp.MustCompile(`(?i)\b(safe|unsafe|clean|done|guaranteed|harmless|no risk|gas-free|sufficient ventilation|leave overnight)\b`)

func TestNoOutputPromises(t *testing.T) {
	for _, s := range sources(t) {
		if s.pack == "render/internal/golden" {
			continue // speaks to whoever runs the tests only
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			literal, ok := n.(*ast.BasicLit)
			if !ok || literal.Kind != token.STRING {
				return true
			}
			text, err := strconv.Unquote(literal.Value)
			require.NoError(t, err)
			assert.Empty(t, neverSaid.FindString(text), "%s:%d", s.path, s.set.Position(literal.Pos()).Line)
			return true
		})
	}
	assert.Empty(t, neverSaid.FindString(string(demoJob)))
}

// The search itself must be able to fail.
func TestNeverSaidFindsTheWords(t *testing.T) {
	for _, text := range []string{"It is Safe.", "all done", "gas-free", "leave overnight", "no risk at all"} {
		assert.NotEmpty(t, neverSaid.FindString(text), text)
	}
	for _, text := range []string{"cleanse", "undone", "safety glasses", "abandoned"} {
		assert.Empty(t, neverSaid.FindString(text), text)
	}
}
