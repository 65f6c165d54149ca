package shape

// ChordMM is how far, in mm, the facets of a curved body may lie inside it. The
// axes of bars are finer.
const ChordMM = bodyTol

// Faceted reports whether a solid with curved faces is known by facets only: it
// is no Rod, whose roundness is kept. The error says why there is no body.
func (s *Solid) Faceted() (bool, error) {
	if _, err := s.Mesh(); err != nil || s.Kind == Rod {
		return false, err
	}
	return s.curved(), nil
}

// curved reports whether facets of the mesh share the number of one face.
func (s *Solid) curved() bool {
	faces := map[int32]bool{}
	for i := range s.mesh.Tris {
		faces[s.mesh.FaceOf(i)] = true
	}
	return len(s.mesh.PlanarFaces()) > len(faces)
}
