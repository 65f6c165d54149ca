package ifcbuild

// Schema is an edition of IFC.
type Schema int

const (
	IFC2X3 Schema = iota
	IFC4
	IFC4X3
)

// String is the name as FILE_SCHEMA has it.
func (s Schema) String() string { return [...]string{"IFC2X3", "IFC4", "IFC4X3_ADD2"}[s] }

// Unit is the length unit of a file.
type Unit int

const (
	MM Unit = iota
	Metre
	Inch
	Foot
)

// perUnit is the length of each unit in mm; decimals are the digits written
// behind the point, worth 1e-7 mm or less.
var perUnit = [...]float64{1, 1000, 25.4, 304.8}
var decimals = [...]int{7, 10, 9, 10}

// MM is the length of the unit in mm.
func (u Unit) MM() float64 { return perUnit[u] }

// Option changes how a model is written.
type Option func(*Builder)

// Seed sets the text that all GlobalIds are derived from. Two models with
// different seeds share no GlobalId.
func Seed(text string) Option { return func(b *Builder) { b.seed = text } }

// Placed moves and turns the whole model by the placement of its site.
func Placed(f Frame) Option { return func(b *Builder) { b.base = f.solid() } }

// Baked moves and turns the whole model, and writes the place of every element
// in world coordinates instead of relative to its storey.
func Baked(f Frame) Option {
	return func(b *Builder) { b.base, b.baked = f.solid(), true }
}

// Degrees makes the degree the unit of angles; the radian is the default.
func Degrees() Option { return func(b *Builder) { b.perRadian = 57.29577951308232 } }

// Names sets the names of the project, the site, the building and the first
// storey; "" leaves a name as it is.
func Names(project, site, building, storey string) Option {
	return func(b *Builder) {
		for i, s := range []string{project, site, building, storey} {
			if s != "" {
				b.names[i] = s
			}
		}
	}
}

// File sets what the header says: the file's name and its time stamp.
func File(name, stamp string) Option {
	return func(b *Builder) { b.file, b.stamp = name, stamp }
}

// WithSyntax sets the way the text is written.
func WithSyntax(s Syntax) Option { return func(b *Builder) { b.syntax = s } }
