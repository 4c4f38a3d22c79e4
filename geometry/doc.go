// Package geometry holds pure shape: points, boxes, triangles, meshes, rotations,
// and the queries on them. It knows nothing of tanks, liquids or currents.
//
// Every length is in metres, every angle in radians, every frame right-handed with
// z up. Facets of a closed Mesh are wound so that their normals point outward, away
// from the enclosed space.
package geometry
