package model

import "embedcheck/internal/geom"

// BoxIn is the box around the item along the axes of a frame, in its coordinates;
// round members may come out larger at their ends, as Rod.Box has it.
func (it *Item) BoxIn(f geom.Affine) geom.Box {
	box := geom.EmptyBox
	for i := range it.Bodies {
		b := &it.Bodies[i]
		if b.Mesh != nil {
			for _, v := range b.Mesh.Verts {
				box = box.Add(f.Local(v))
			}
		}
		if b.Rod != nil {
			path := geom.EmptyBox
			for _, p := range b.Rod.Path {
				path = path.Add(f.Local(p))
			}
			box = box.Union(path.Grow(b.Rod.Radius))
		}
	}
	return box
}

// OwnBox is the box around the item along its own axes, in its Frame: its size is
// the same however the model is turned, which that of Box is not.
func (it *Item) OwnBox() geom.Box {
	if it.Frame.Det() == 0 {
		return it.Box
	}
	return it.BoxIn(it.Frame)
}

// Middle is the middle of the item, in local coordinates. It goes with the item
// when the model is turned, which the middle of Box does not.
func (it *Item) Middle() geom.Vec {
	if it.Frame.Det() == 0 || len(it.Bodies) == 0 || it.Box.Empty() {
		return it.Box.Center()
	}
	return it.Frame.Apply(it.OwnBox().Center())
}
