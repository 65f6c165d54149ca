package bcf

import (
	"io"

	"embedcheck/internal/geom"
)

// Topic is one issue, whatever version of the format it comes from. Dates are
// kept as they are written; ParseDate reads them. An empty text stands for an
// absent one.
type Topic struct {
	GUID           string
	Type           string
	Status         string
	Title          string
	Priority       string
	Index          *int // place in a list; nil when there is none
	Labels         []string
	CreationDate   string
	CreationAuthor string
	ModifiedDate   string
	ModifiedAuthor string
	DueDate        string
	AssignedTo     string
	Stage          string
	Description    string
	ServerID       string // number that a server gave it
	Links          []string
	Snippet        *Snippet
	Documents      []DocumentRef
	Related        []string // GUIDs of topics
	Models         []ModelFile
	Comments       []Comment
	Viewpoints     []Viewpoint

	Files []File  // of its folder, other than markup and viewpoints: snapshots, documents, whatever else
	Extra []Extra // elements that the standard does not name
}

// Extra is an element that the standard does not name, as it was found.
type Extra struct {
	Parent string // Markup, Header or Topic
	XML    string
}

// ModelFile names a model that a topic is about.
type ModelFile struct {
	Name             string
	Date             string
	Reference        string // path or URL
	Project          string // GlobalId of the IfcProject
	SpatialStructure string // GlobalId of the spatial structure element
	Internal         bool   // the reference leads into the archive
}

// Snippet is a piece of data in another format.
type Snippet struct {
	Type      string
	Reference string // file in the topic's folder, or URL
	Schema    string
	External  bool
}

// DocumentRef leads to a document: one of the three of URL, Path and Document.
type DocumentRef struct {
	GUID        string
	Description string
	URL         string // outside of the archive
	Path        string // 2.1: relative to the topic's folder
	Document    string // 3.0: GUID of one of Archive.Documents
}

// Comment is what somebody said.
type Comment struct {
	GUID           string
	Date           string
	Author         string
	Text           string
	Viewpoint      string // GUID; "" when it is about none
	ModifiedDate   string
	ModifiedAuthor string
	Extra          []string // elements that the standard does not name
}

// Viewpoint is a way to look at the model. The standard lets nobody change one:
// a changed view is a new viewpoint.
type Viewpoint struct {
	GUID     string
	File     string // name in the topic's folder; "" when there is a snapshot only
	Snapshot string // name in the topic's folder
	Index    *int
	View     *View // nil when there is none, or none that can be read

	raw     []byte // the file as it was read
	version Version
}

// View is the content of a viewpoint.
type View struct {
	Selection         []Component
	DefaultVisibility bool
	Exceptions        []Component // to the default visibility
	Hints             *Hints
	Coloring          []Color
	Camera            *Camera
	Lines             []Line
	Planes            []Plane
	Bitmaps           []Bitmap
}

// Component names an element of a model.
type Component struct {
	GlobalID string
	System   string // that it comes from
	ToolID   string // its id there
}

// Hints say whether elements of kinds that are hidden as a rule are to be seen.
type Hints struct{ Spaces, SpaceBoundaries, Openings bool }

// Color gives components a colour: RRGGBB, or AARRGGBB with the alpha first.
type Color struct {
	Color      string
	Components []Component
}

// Camera is a perspective camera, or an orthogonal one when Scale is set.
type Camera struct {
	Eye       geom.Vec // metres
	Direction geom.Vec // from the eye into the scene
	Up        geom.Vec
	Field     float64 // degrees, from top to bottom of the picture
	Scale     float64 // metres, from top to bottom of the picture
	Aspect    float64 // width by height; 0 is unknown
}

// Line is a line in the scene, metres.
type Line struct{ From, To geom.Vec }

// Plane cuts away what lies on the side that Direction points to.
type Plane struct{ At, Direction geom.Vec }

// Bitmap is a picture that stands in the scene.
type Bitmap struct {
	Format      string // png or jpg
	Reference   string // file in the topic's folder
	At          geom.Vec
	Normal, Up  geom.Vec
	HeightMetre float64
}

// Project is what the archive says about the project.
type Project struct{ ID, Name string }

// Document is a document inside of a 3.0 archive: its bytes are the file
// Documents/GUID.
type Document struct{ GUID, Filename, Description string }

// Extensions are the words that a project has agreed on.
type Extensions struct {
	TopicTypes, TopicStatuses, Priorities, TopicLabels, Users, SnippetTypes, Stages []string
}

// Archive is all that an issue list holds.
type Archive struct {
	Version         Version
	Project         Project
	ExtensionSchema string // 2.1: path of the project's own XSD, one of Files
	Extensions      Extensions
	Documents       []Document
	Topics          []*Topic
	Files           []File   // outside of topics: documents, schemas, whatever else
	Warnings        []string // what was not as it should be

	closer io.Closer
}
