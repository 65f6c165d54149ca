package demo

import (
	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// steel is the model of the steel frame, as far as it stands on bolts of the base.
func steel(b *ib.Builder) {
	monorailPost(b)
	pipeSaddle(b)
}

// monorailPost: the post on the bolts HD-3. Its plate has the right size, but was
// drawn for bolts at 300 x 280.
func monorailPost(b *ib.Builder) {
	at := ib.At(8800, 2000, 0)
	whole := b.Add(ib.Element{Class: "IfcElementAssembly", Name: "MP-1", Tag: "MP-1", At: at})
	plate := embed.Template{W: 420, H: 420, T: 25, Hole: 32, Under: 40}
	b.Add(ib.Element{
		Class: "IfcPlate", Name: "Base plate 420x420x25", Tag: "MP-1-B", Of: whole, Material: plates,
		Body: []ib.Solid{plate.Body(embed.Grid(2, 2, 300, 280))},
	})
	b.Add(ib.Element{
		Class: "IfcColumn", Name: "Post 168x8", Tag: "MP-1-P", Of: whole, Material: plates,
		Body: []ib.Solid{ib.Extrude{Profile: ib.Round{R: 84, Wall: 8, Name: "CHS168*8"}, At: ib.At(0, 0, 65), Depth: 4000}},
	})
}

// pipeSaddle: a plate on the bolts SB-1, with holes of 24 mm.
func pipeSaddle(b *ib.Builder) {
	plate := embed.Template{W: 400, H: 100, T: 12, Hole: 24, Under: 20}
	b.Add(ib.Element{
		Class: "IfcPlate", Name: "Pipe saddle 400x100x12", Tag: "PS-1-B", At: ib.At(3800, 906, 600), Material: plates,
		Body: []ib.Solid{plate.Body(embed.Grid(2, 1, 300, 0))},
	})
}
