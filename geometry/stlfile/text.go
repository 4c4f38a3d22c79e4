package stlfile

import (
	"bytes"
	"fmt"
)

// isText reports whether the file is meant as text: "solid" first, and nothing in its
// first part that no text has.
func isText(data []byte) bool {
	head := bytes.TrimLeft(data[:min(len(data), 1024)], " \t\r\n\uFEFF")
	if len(head) < 5 || !bytes.EqualFold(head[:5], []byte("solid")) {
		return false
	}
	return bytes.IndexByte(head, 0) < 0
}

// normalised rewrites a text file as the library takes it: lower case, one facet a
// line, no blank lines, several solids joined to one, the normals (which are
// recomputed) as 0 0 0.
func normalised(data []byte) ([]byte, error) {
	n := normaliser{out: make([]byte, 0, len(data)+64)}
	n.out = append(n.out, "solid surface\n"...)
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	for n.line = 1; len(data) > 0; n.line++ {
		var row []byte
		row, data, _ = bytes.Cut(data, []byte("\n"))
		if err := n.takeRow(bytes.Fields(bytes.ToLower(row))); err != nil {
			return nil, err
		}
	}
	if n.inside {
		return nil, fmt.Errorf("is cut short: it ends after facet %d, without \"endsolid\"; copy or export it again", n.facets)
	}
	return append(n.out, "endsolid\n"...), nil
}

type normaliser struct {
	out    []byte
	line   int  // of the file, from 1
	inside bool // between solid and endsolid
	skip   int  // words of a normal still to leave out
	facets int
}

func (n *normaliser) takeRow(words [][]byte) error {
	if len(words) == 0 {
		return nil
	}
	switch first := string(words[0]); {
	case first == "solid" && n.inside:
		return fmt.Errorf("line %d starts a second solid inside the first: export it again", n.line)
	case first == "solid" || first == "endsolid" && n.inside:
		n.inside = first == "solid" // what follows on the line is a name
		return nil
	case !n.inside:
		return fmt.Errorf("line %d stands after \"endsolid\": take off what follows, or export it again", n.line)
	}
	for _, w := range words {
		n.takeWord(w)
	}
	return nil
}

func (n *normaliser) takeWord(word []byte) {
	switch {
	case string(word) == "facet":
		n.out = append(n.out, "facet normal 0 0 0 "...)
		n.skip = 4 // "normal" and its three numbers
	case n.skip > 0:
		n.skip--
	case string(word) == "endfacet":
		n.out = append(n.out, "endfacet\n"...)
		n.facets++
	default:
		n.out = append(append(n.out, word...), ' ')
	}
}
