package job

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"evenwall/geometry"
)

// reader walks the file and gathers every fault on its way. A part that is wrong
// reads as its zero value, so that the walk goes on to the next.
type reader struct {
	faults []Fault
	extent func() (geometry.Box, error) // of the tank, for places by tape; nil before it is known
	sides  geometry.Sides               // of the tank
}

// document returns the keys at the top of the file, or false when there are none.
func (r *reader) document(text []byte) (*fields, bool) {
	file, err := parser.ParseBytes(text, 0)
	if err != nil {
		r.syntax(err)
		return nil, false
	}
	if len(file.Docs) != 1 || file.Docs[0].Body == nil {
		r.faults = append(r.faults, Fault{Text: "a job file holds one list of keys, beginning with job: 1; this one is empty or holds several"})
		return nil, false
	}
	top := value{r: r, line: 1, node: file.Docs[0].Body}
	if !top.isMapping() {
		top.faultf("a job file begins with keys, such as job: 1")
		return nil, false
	}
	return top.fields(), true
}

func (r *reader) syntax(err error) {
	var syntax *yaml.SyntaxError
	if !errors.As(err, &syntax) {
		r.faults = append(r.faults, Fault{Text: "is not written as YAML: " + firstLine(err.Error())})
		return
	}
	line := 0
	if t := syntax.GetToken(); t != nil && t.Position != nil {
		line = t.Position.Line
	}
	r.faults = append(r.faults, Fault{Line: line, Text: "is not written as YAML: " + firstLine(syntax.GetMessage())})
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}

// value is what stands at one key or in one place of a list. node is nil when the
// key is not there; every read of it then gives the zero value without a fault.
type value struct {
	r    *reader
	path string
	line int
	node ast.Node
}

func (v value) given() bool { return v.node != nil }

func (v value) faultf(format string, args ...any) {
	v.r.faults = append(v.r.faults, Fault{Line: v.line, Key: v.path, Text: fmt.Sprintf(format, args...)})
}

func (v value) isMapping() bool {
	switch v.node.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		return true
	}
	return false
}

// raw returns a single value as it is written, or "" for a list or a group of keys.
func (v value) raw() string {
	switch n := v.node.(type) {
	case *ast.StringNode:
		return n.Value
	case *ast.LiteralNode:
		return strings.TrimSpace(n.Value.Value)
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.NanNode, *ast.InfinityNode:
		return n.GetToken().Value
	}
	return ""
}

// single returns a value as it is written; anything else than one value is a fault.
func (v value) single(wanted string) (string, bool) {
	if !v.given() {
		return "", false
	}
	switch v.node.(type) {
	case *ast.NullNode:
		v.faultf("has no value: give %s, or leave the key out", wanted)
		return "", false
	case *ast.AliasNode, *ast.AnchorNode, *ast.TagNode:
		v.faultf("anchors, aliases and tags are not read: write out %s", wanted)
		return "", false
	}
	text := v.raw()
	if text == "" {
		v.faultf("give %s", wanted)
	}
	return text, text != ""
}

// text reads a line of text.
func (v value) text() string {
	text, _ := v.single("a text")
	if strings.ContainsFunc(text, func(c rune) bool { return c < ' ' || c == 0x7f || c == '\uFFFD' }) {
		v.faultf("%q holds characters that do not print: write it on one line", text)
		return ""
	}
	return text
}

// count reads a whole number from low up.
func (v value) count(low int) int {
	text, ok := v.single("a whole number")
	if !ok {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < low {
		v.faultf("%q is no whole number from %d up", text, low)
		return 0
	}
	return n
}

// sign says which numbers a quantity may be.
type sign int

const (
	anySign sign = iota
	notNegative
	positive
)

// quantity reads a number with its unit, in SI.
func (v value) quantity(k kind, s sign) float64 {
	text, ok := v.single("a " + k.noun + " such as " + k.example)
	if !ok {
		return 0
	}
	x, err := k.parse(text)
	switch {
	case err != nil:
		v.faultf("%v", err)
	case s == notNegative && x < 0:
		v.faultf("%s is negative: give 0 or more, such as %s", text, k.example)
	case s == positive && x <= 0:
		v.faultf("%s is not above 0: give more, such as %s", text, k.example)
	default:
		return x
	}
	return 0
}

// quantityOr reads a quantity, or returns otherwise, in SI, when the key is left out.
func (v value) quantityOr(otherwise float64, k kind, s sign) float64 {
	if !v.given() {
		return otherwise
	}
	return v.quantity(k, s)
}

// isList reports whether the value is a list.
func (v value) isList() bool {
	_, ok := v.node.(*ast.SequenceNode)
	return ok
}

// list returns the entries of a list.
func (v value) list(wanted string) []value {
	if !v.given() {
		return nil
	}
	sequence, ok := v.node.(*ast.SequenceNode)
	if !ok {
		v.faultf("give a list of %s", wanted)
		return nil
	}
	entries := make([]value, len(sequence.Values))
	for i, n := range sequence.Values {
		entries[i] = value{r: v.r, path: fmt.Sprintf("%s[%d]", v.path, i), line: lineOf(n, v.line), node: n}
	}
	return entries
}

// some returns the entries of a list that holds at least one.
func (v value) some(wanted string) []value {
	entries := v.list(wanted)
	if _, isList := v.node.(*ast.SequenceNode); isList && len(entries) == 0 {
		v.faultf("is empty: give %s, or leave the key out", wanted)
	}
	return entries
}

// point reads [x, y, z] as lengths, or a place by tape.
func (v value) point() geometry.Vec {
	if text := v.raw(); text != "" {
		return v.tape(text)
	}
	p, ok := v.triple(length.parse)
	if !ok {
		return geometry.Vec{}
	}
	return p
}

// triple reads three values by parse; ok is false after a fault or without a value.
func (v value) triple(parse func(string) (float64, error)) (p geometry.Vec, ok bool) {
	if !v.given() {
		return p, false
	}
	entries := v.list("three numbers [x, y, z]")
	if len(entries) != 3 {
		if _, isList := v.node.(*ast.SequenceNode); isList {
			v.faultf("give three numbers [x, y, z], not %d", len(entries))
		}
		return p, false
	}
	ok = true
	for axis, e := range entries {
		text, single := e.single("a number")
		if !single {
			ok = false
			continue
		}
		x, err := parse(text)
		if err != nil {
			e.faultf("%v", err)
			ok = false
		}
		p = p.WithAxis(axis, x)
	}
	return p, ok
}

func lineOf(n ast.Node, otherwise int) int {
	if n == nil {
		return otherwise
	}
	if t := n.GetToken(); t != nil && t.Position != nil {
		return t.Position.Line
	}
	return otherwise
}
