// Package snapshot renders a picture of the place of a finding, as PNG: the host
// cut open by a plane through the item, so that what is inside the concrete is
// seen, the item and what it is too near to in colours of their own.
//
// It needs no graphics hardware: triangles are filled into a depth buffer. The
// same model and finding give the same bytes.
package snapshot
