package passage

import (
	"evenwall/geometry"
)

// bundle is straight pieces of a rod, one following the other, under one straight cover: what
// the cover is far from, they are.
type bundle struct {
	cover  geometry.Rod   // the piece itself where there is only one
	pieces []geometry.Rod // none where the cover is the piece
}

// gap returns the least distance of the pieces, moved, to steel if it is below limit, m.
func (b *bundle) gap(steel *geometry.Tree, move func(geometry.Vec) geometry.Vec, limit float64) geometry.Gap {
	least := gapOf(b.cover, steel, move, limit)
	if len(b.pieces) == 0 || least.Face < 0 {
		return least
	}
	least = geometry.Gap{Distance: limit, Face: -1}
	for _, piece := range b.pieces {
		if g := gapOf(piece, steel, move, least.Distance); g.Distance < least.Distance {
			least = g
		}
	}
	return least
}

func gapOf(piece geometry.Rod, steel *geometry.Tree, move func(geometry.Vec) geometry.Vec, limit float64) geometry.Gap {
	piece.Path = geometry.Straight(move(piece.Path[0]), move(piece.Path[1]))
	return geometry.ClearanceWithin(&piece, steel, limit)
}

// piecesOf cuts a part of a rod at the corners of its path: straight pieces, with a ball where
// one follows another.
func piecesOf(r *geometry.Rod, p part) []geometry.Rod {
	var out []geometry.Rod
	for k, ends := range r.Pieces(p.span.From, p.span.To) {
		from, along := ends[0], ends[1].Sub(ends[0]).Unit()
		flat := k == 0 && (r.Flat || p.radius > r.Radius || p.span.From >= p.radius)
		if k > 0 {
			from = from.AddScaled(along, -p.radius) // its round end is the ball about the corner
		}
		out = append(out, straight(from, ends[1], p.radius, flat))
	}
	return out
}

func straight(from, to geometry.Vec, radius float64, flat bool) geometry.Rod {
	r := geometry.Rod{Path: geometry.Straight(from, to), Radius: radius, Flat: flat}
	r.Bare = []geometry.Span{{From: 0, To: r.Length()}}
	return r
}

// shortPiece is the length of pieces, in radii, that are bundled: those of a bend.
const shortPiece = 4.0

// bundlesOf joins the short pieces that follow one another.
func bundlesOf(pieces []geometry.Rod) []bundle {
	var out []bundle
	for i := 0; i < len(pieces); {
		n := i + 1
		for isShort(&pieces[i]) && n < len(pieces) && isShort(&pieces[n]) {
			n++
		}
		if n == i+1 {
			out = append(out, bundle{cover: pieces[i]})
		} else {
			out = append(out, bundle{coverOf(pieces[i:n]), pieces[i:n]})
		}
		i = n
	}
	return out
}

func isShort(p *geometry.Rod) bool { return p.Length() < (shortPiece+1)*p.Radius }

// coverOf returns a straight piece that holds pieces of one radius within it.
func coverOf(pieces []geometry.Rod) geometry.Rod {
	a, b := pieces[0].Path[0], pieces[len(pieces)-1].Path[1]
	away := 0.0
	for i := range pieces {
		for _, p := range pieces[i].Path {
			away = max(away, p.Dist(a.Lerp(b, geometry.ClosestOnSegment(p, a, b))))
		}
	}
	radius := pieces[0].Radius + away
	over := b.Sub(a).Unit().Scale(radius)
	return straight(a.Sub(over), b.Add(over), radius, false)
}
