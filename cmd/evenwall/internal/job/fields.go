package job

import (
	"slices"
	"sort"

	"github.com/agnivade/levenshtein"
	"github.com/goccy/go-yaml/ast"
)

// fields is a group of keys. Reading a key also makes it known, so that finish can
// tell the unknown ones and offer the nearest known.
type fields struct {
	of     value
	values map[string]value
	order  []string        // keys as they stand in the file
	known  map[string]bool // keys that were asked for
}

// fields opens v as a group of keys; anything else is a fault, and a value that is
// not given has none.
func (v value) fields() *fields {
	f := &fields{of: v, values: map[string]value{}, known: map[string]bool{}}
	if !v.given() {
		return f
	}
	if !v.isMapping() {
		v.faultf("give its keys, as name: value")
		f.of.node = nil // says nothing more about keys that are missing
		return f
	}
	for _, pair := range pairs(v.node) {
		f.add(pair)
	}
	return f
}

func pairs(n ast.Node) []*ast.MappingValueNode {
	if m, ok := n.(*ast.MappingNode); ok {
		return m.Values
	}
	return []*ast.MappingValueNode{n.(*ast.MappingValueNode)}
}

func (f *fields) add(pair *ast.MappingValueNode) {
	line := lineOf(pair.Key, f.of.line)
	token := pair.Key.GetToken()
	if _, merge := pair.Key.(*ast.MergeKeyNode); merge || token == nil {
		f.of.faultf("merged keys are not read: write them out")
		return
	}
	key := token.Value
	v := value{r: f.of.r, path: f.path(key), line: line, node: pair.Value}
	f.values[key] = v
	f.order = append(f.order, key)
}

func (f *fields) path(key string) string {
	if f.of.path == "" {
		return key
	}
	return f.of.path + "." + key
}

// get returns the value at key, which need not be there.
func (f *fields) get(key string) value {
	f.known[key] = true
	if v, ok := f.values[key]; ok {
		return v
	}
	return value{r: f.of.r, path: f.path(key), line: f.of.line}
}

// need returns the value at key; its absence is a fault that asks for wanted.
func (f *fields) need(key, wanted string) value {
	v := f.get(key)
	if !v.given() && f.of.given() {
		v.faultf("is missing: give %s", wanted)
	}
	return v
}

// finish reports every key that nobody asked for, with the nearest known one.
func (f *fields) finish() {
	for _, key := range f.order {
		if !f.known[key] {
			f.values[key].faultf("unknown key; the nearest is %s", f.nearest(key))
		}
	}
}

func (f *fields) nearest(key string) string {
	names := make([]string, 0, len(f.known))
	for name := range f.known {
		names = append(names, name)
	}
	return nearest(key, names)
}

// nearest returns the name at the least edit distance, the first by alphabet of several. Letters
// that only stand in another order count as one edit.
func nearest(word string, names []string) string {
	sort.Strings(names)
	best, least := "", 1<<30
	for _, name := range names {
		d := levenshtein.ComputeDistance(word, name)
		if sortedLetters(word) == sortedLetters(name) {
			d = min(d, 1)
		}
		if d < least {
			best, least = name, d
		}
	}
	return best
}

func sortedLetters(word string) string {
	letters := []rune(word)
	slices.Sort(letters)
	return string(letters)
}

// option is one word that a key takes, with what it stands for.
type option[T any] struct {
	word string
	as   T
}

// choice reads one of the options; the zero value of T when the key is left out.
func choice[T any](v value, options []option[T]) T {
	var none T
	words := ""
	for i, o := range options {
		if i > 0 {
			words += ", "
		}
		words += o.word
	}
	text, ok := v.single("one of " + words)
	if !ok {
		return none
	}
	for _, o := range options {
		if o.word == text {
			return o.as
		}
	}
	v.faultf("%q is none of %s", text, words)
	return none
}
