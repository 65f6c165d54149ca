package element_test

import (
	"math"
	"strings"
)

// Representation items in the standard's own words, one of each kind that the
// reference sheets list, with the profiles, curves and surfaces they are made of.

// common is what the items below are made of; each numbers its own from #20.
const common = `
#1=IFCCARTESIANPOINT((0.,0.,0.));
#2=IFCDIRECTION((0.,0.,1.));
#3=IFCDIRECTION((1.,0.,0.));
#4=IFCDIRECTION((0.,1.,0.));
#5=IFCAXIS2PLACEMENT3D(#1,$,$);
#6=IFCCARTESIANPOINT((0.,0.));
#7=IFCAXIS2PLACEMENT2D(#6,$);
#8=IFCCARTESIANPOINT((300.,-200.,50.));
#9=IFCDIRECTION((0.6,0.,0.8));
#10=IFCDIRECTION((0.8,0.,-0.6));
#11=IFCAXIS2PLACEMENT3D(#8,#9,#10);
#12=IFCDIRECTION((0.3,0.2,0.9));
#13=IFCDIRECTION((1.,0.));
#14=IFCDIRECTION((0.,1.));
`

// word is an item: its text, and what the file says of it.
type word struct{ name, text, kind string }

// swept are solids that sweep an area or a disk.
var swept = []word{
	{"extruded", "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#21=IFCEXTRUDEDAREASOLID(#20,#11,#2,80.);", "SweptSolid"},
	{"extruded askew", "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#21=IFCEXTRUDEDAREASOLID(#20,#11,#12,80.);", "SweptSolid"},
	{"extruded tapered", "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#21=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,100.,60.);\n#22=IFCEXTRUDEDAREASOLIDTAPERED(#20,#11,#2,80.,#21);", "AdvancedSweptSolid"},
	{"revolved", "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#21=IFCCARTESIANPOINT((-150.,0.,0.));\n#22=IFCAXIS1PLACEMENT(#21,#4);\n#23=IFCREVOLVEDAREASOLID(#20,#11,#22,70.);", "SweptSolid"},
	{"revolved whole", "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#21=IFCCARTESIANPOINT((-150.,0.,0.));\n#22=IFCAXIS1PLACEMENT(#21,#4);\n#23=IFCREVOLVEDAREASOLID(#20,#11,#22,360.);", "SweptSolid"},
	{"revolved about its side", "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#21=IFCCARTESIANPOINT((-100.,0.,0.));\n#22=IFCAXIS1PLACEMENT(#21,#4);\n#23=IFCREVOLVEDAREASOLID(#20,#5,#22,90.);", "SweptSolid"},
	{"revolved tapered", "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#24=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,100.,60.);\n#21=IFCCARTESIANPOINT((-150.,0.,0.));\n#22=IFCAXIS1PLACEMENT(#21,#4);\n#23=IFCREVOLVEDAREASOLIDTAPERED(#20,#5,#22,70.,#24);", "AdvancedSweptSolid"},
	{"disk", "#20=IFCCARTESIANPOINT((0.,0.,-300.));\n#21=IFCPOLYLINE((#1,#20,#8));\n#22=IFCSWEPTDISKSOLID(#21,20.,$,$,$);", "AdvancedSweptSolid"},
	{"disk bored", "#20=IFCCARTESIANPOINT((0.,0.,-300.));\n#21=IFCPOLYLINE((#1,#20));\n#22=IFCSWEPTDISKSOLID(#21,20.,12.,$,$);", "AdvancedSweptSolid"},
	{"disk trimmed", "#20=IFCCARTESIANPOINT((0.,0.,-300.));\n#21=IFCCARTESIANPOINT((200.,0.,-300.));\n#22=IFCPOLYLINE((#1,#20,#21));\n#23=IFCSWEPTDISKSOLID(#22,20.,$,0.5,1.5);", "AdvancedSweptSolid"},
	{"disk filleted", "#20=IFCCARTESIANPOINT((0.,0.,-300.));\n#21=IFCCARTESIANPOINT((200.,0.,-300.));\n#22=IFCPOLYLINE((#1,#20,#21));\n#23=IFCSWEPTDISKSOLIDPOLYGONAL(#22,20.,$,$,$,60.);", "AdvancedSweptSolid"},
	{"disk on an indexed curve", "#20=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(0.,0.,-240.),(17.57359313,0.,-282.42640687),(60.,0.,-300.),(200.,0.,-300.)));\n#21=IFCINDEXEDPOLYCURVE(#20,(IFCLINEINDEX((1,2)),IFCARCINDEX((2,3,4)),IFCLINEINDEX((4,5))),$);\n#22=IFCSWEPTDISKSOLID(#21,20.,$,$,$);", "AdvancedSweptSolid"},
	{"disk on a trimmed circle", "#20=IFCCIRCLE(#5,200.);\n#21=IFCTRIMMEDCURVE(#20,(IFCPARAMETERVALUE(350.)),(IFCPARAMETERVALUE(100.)),.T.,.PARAMETER.);\n#22=IFCSWEPTDISKSOLID(#21,20.,$,$,$);", "AdvancedSweptSolid"},
	{"disk on a composite curve", "#20=IFCCARTESIANPOINT((0.,0.,200.));\n#21=IFCPOLYLINE((#20,#1));\n#22=IFCCARTESIANPOINT((60.,0.,0.));\n#23=IFCAXIS2PLACEMENT3D(#22,#4,#3);\n#24=IFCCIRCLE(#23,60.);\n" +
		"#25=IFCTRIMMEDCURVE(#24,(IFCPARAMETERVALUE(180.)),(IFCPARAMETERVALUE(90.)),.F.,.PARAMETER.);\n#26=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#21);\n#27=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#25);\n#28=IFCCOMPOSITECURVE((#26,#27),.F.);\n#29=IFCSWEPTDISKSOLID(#28,20.,$,$,$);", "AdvancedSweptSolid"},
	{"fixed reference", "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,40.,20.);\n#21=IFCCARTESIANPOINT((300.,0.,0.));\n#22=IFCCARTESIANPOINT((300.,300.,0.));\n#23=IFCPOLYLINE((#1,#21,#22));\n#24=IFCFIXEDREFERENCESWEPTAREASOLID(#20,#5,#23,$,$,#2);", "AdvancedSweptSolid"},
	{"sectioned", sections + "#50=IFCSECTIONEDSOLIDHORIZONTAL(#41,(#38,#39),(#43,#45));", "AdvancedSweptSolid"},
	{"sectioned spine", sections + "#46=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#41);\n#47=IFCCOMPOSITECURVE((#46),.F.);\n#48=IFCAXIS2PLACEMENT3D(#1,#3,#4);\n#49=IFCAXIS2PLACEMENT3D(#40,#3,#4);\n#50=IFCSECTIONEDSPINE(#47,(#38,#39),(#48,#49));", "AdvancedSweptSolid"},
	{"surface curve", "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,40.,20.);\n#21=IFCCIRCLE(#5,200.);\n#22=IFCTRIMMEDCURVE(#21,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(90.)),.T.,.PARAMETER.);\n#23=IFCPLANE(#5);\n#24=IFCSURFACECURVESWEPTAREASOLID(#20,#5,#22,$,$,#23);", "AdvancedSweptSolid"},
}

// sections are an area of 45 000 mm2, #38, its half size, #39, a line of 2000, #41,
// and two places on it, 900 apart and beside it.
const sections = "#30=IFCCARTESIANPOINT((300.,0.));\n#31=IFCCARTESIANPOINT((300.,100.));\n#34=IFCCARTESIANPOINT((0.,200.));\n#35=IFCPOLYLINE((#6,#30,#31,#34,#6));\n#38=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#35);\n" +
	"#32=IFCCARTESIANPOINT((150.,0.));\n#33=IFCCARTESIANPOINT((150.,50.));\n#36=IFCCARTESIANPOINT((0.,100.));\n#37=IFCPOLYLINE((#6,#32,#33,#36,#6));\n#39=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#37);\n" +
	"#40=IFCCARTESIANPOINT((2000.,0.,0.));\n#41=IFCPOLYLINE((#1,#40));\n#42=IFCPOINTBYDISTANCEEXPRESSION(IFCLENGTHMEASURE(100.),50.,70.,$,#41);\n#43=IFCAXIS2PLACEMENTLINEAR(#42,$,$);\n#44=IFCPOINTBYDISTANCEEXPRESSION(IFCLENGTHMEASURE(1000.),50.,70.,$,#41);\n#45=IFCAXIS2PLACEMENTLINEAR(#44,$,$);\n"

// profiled wraps a profile, #40, in an extrusion.
func profiled(name, text string) word {
	return word{name, text + "\n#41=IFCEXTRUDEDAREASOLID(#40,#11,#2,1000.);", "SweptSolid"}
}

// profiles are areas of every kind.
var profiles = []word{
	profiled("rounded rectangle", "#40=IFCROUNDEDRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.,20.);"),
	profiled("hollow rectangle", "#40=IFCRECTANGLEHOLLOWPROFILEDEF(.AREA.,$,#7,200.,100.,8.,8.,16.);"),
	profiled("hollow rectangle without roundings", "#40=IFCRECTANGLEHOLLOWPROFILEDEF(.AREA.,$,#7,200.,100.,8.,$,$);"),
	profiled("trapezium", "#40=IFCTRAPEZIUMPROFILEDEF(.AREA.,$,#7,200.,120.,100.,-20.);"),
	profiled("circle", "#40=IFCCIRCLEPROFILEDEF(.AREA.,$,#7,80.);"),
	profiled("circle in place", "#39=IFCCARTESIANPOINT((100.,50.));\n#38=IFCAXIS2PLACEMENT2D(#39,#14);\n#40=IFCCIRCLEPROFILEDEF(.AREA.,$,#38,80.);"),
	profiled("hollow circle", "#40=IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,#7,80.,10.);"),
	profiled("ellipse", "#40=IFCELLIPSEPROFILEDEF(.AREA.,$,#7,80.,50.);"),
	profiled("I", "#40=IFCISHAPEPROFILEDEF(.AREA.,'IPE 300',#7,150.,300.,7.1,10.7,15.,$,$);"),
	profiled("I without roundings", "#40=IFCISHAPEPROFILEDEF(.AREA.,$,#7,150.,300.,7.1,10.7,$,$,$);"),
	profiled("asymmetric I", "#40=IFCASYMMETRICISHAPEPROFILEDEF(.AREA.,$,#7,200.,300.,8.,12.,$,150.,10.,$,$,$,$,$);"),
	profiled("L", "#40=IFCLSHAPEPROFILEDEF(.AREA.,'L 150x100x12',#7,150.,100.,12.,12.,6.,$);"),
	profiled("L without roundings", "#40=IFCLSHAPEPROFILEDEF(.AREA.,$,#7,150.,100.,12.,$,$,$);"),
	profiled("U", "#40=IFCUSHAPEPROFILEDEF(.AREA.,$,#7,200.,75.,8.5,11.5,$,$,$);"),
	profiled("U sloping", "#40=IFCUSHAPEPROFILEDEF(.AREA.,'UPN 200',#7,200.,75.,8.5,11.5,11.5,6.,4.574);"),
	profiled("C", "#40=IFCCSHAPEPROFILEDEF(.AREA.,$,#7,200.,80.,3.,25.,$);"),
	profiled("C rounded", "#40=IFCCSHAPEPROFILEDEF(.AREA.,$,#7,200.,80.,3.,25.,4.);"),
	profiled("Z", "#40=IFCZSHAPEPROFILEDEF(.AREA.,$,#7,200.,75.,8.,11.,$,$);"),
	profiled("T", "#40=IFCTSHAPEPROFILEDEF(.AREA.,$,#7,100.,100.,11.,11.,$,$,$,$,$);"),
	profiled("T rounded", "#40=IFCTSHAPEPROFILEDEF(.AREA.,'T 100',#7,100.,100.,11.,11.,11.,5.5,3.,1.146,1.146);"),
	profiled("arbitrary", outline+"#40=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#35);"),
	profiled("arbitrary with voids", outline+"#36=IFCCARTESIANPOINT((50.,50.));\n#37=IFCAXIS2PLACEMENT2D(#36,$);\n#38=IFCCIRCLE(#37,20.);\n#40=IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,#35,(#38));"),
	profiled("arbitrary arcs", "#30=IFCCARTESIANPOINTLIST2D(((0.,0.),(200.,0.),(250.,50.),(200.,100.),(0.,100.)));\n#31=IFCINDEXEDPOLYCURVE(#30,(IFCLINEINDEX((1,2)),IFCARCINDEX((2,3,4)),IFCLINEINDEX((4,5,1))),.F.);\n#40=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#31);"),
	profiled("centre line", "#30=IFCCARTESIANPOINT((0.,150.));\n#31=IFCCARTESIANPOINT((100.,150.));\n#32=IFCPOLYLINE((#6,#30,#31));\n#40=IFCCENTERLINEPROFILEDEF(.AREA.,$,#32,10.);"),
	profiled("composite", "#30=IFCCARTESIANPOINT((300.,0.));\n#31=IFCAXIS2PLACEMENT2D(#30,$);\n#32=IFCCIRCLEPROFILEDEF(.AREA.,$,#31,50.);\n#33=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,100.,60.);\n#40=IFCCOMPOSITEPROFILEDEF(.AREA.,$,(#32,#33),$);"),
	profiled("derived", outline+"#36=IFCCARTESIANPOINT((30.,40.));\n#37=IFCCARTESIANTRANSFORMATIONOPERATOR2D(#14,$,#36,1.5);\n#38=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#35);\n#40=IFCDERIVEDPROFILEDEF(.AREA.,$,#38,#37,$);"),
	profiled("mirrored", outline+"#38=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#35);\n#40=IFCMIRROREDPROFILEDEF(.AREA.,$,#38,*,$);"),
	profiled("B-spline outline", "#30=IFCCARTESIANPOINT((200.,0.));\n#31=IFCCARTESIANPOINT((250.,80.));\n#32=IFCCARTESIANPOINT((100.,180.));\n#33=IFCCARTESIANPOINT((0.,100.));\n"+
		"#34=IFCBSPLINECURVEWITHKNOTS(3,(#30,#31,#32,#33),.UNSPECIFIED.,.F.,.F.,(4,4),(0.,1.),.UNSPECIFIED.);\n#35=IFCPOLYLINE((#33,#6,#30));\n#36=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#34);\n#37=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#35);\n#38=IFCCOMPOSITECURVE((#36,#37),.F.);\n#40=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#38);"),
	profiled("rational B-spline outline", "#30=IFCCARTESIANPOINT((200.,0.));\n#31=IFCCARTESIANPOINT((200.,200.));\n#32=IFCCARTESIANPOINT((0.,200.));\n"+
		"#34=IFCRATIONALBSPLINECURVEWITHKNOTS(2,(#30,#31,#32),.CIRCULAR_ARC.,.F.,.F.,(3,3),(0.,1.),.UNSPECIFIED.,(1.,0.7071067811865476,1.));\n#35=IFCPOLYLINE((#32,#6,#30));\n#36=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#34);\n#37=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#35);\n#38=IFCCOMPOSITECURVE((#36,#37),.F.);\n#40=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#38);"),
	profiled("outline of a trimmed ellipse", "#30=IFCELLIPSE(#7,100.,60.);\n#31=IFCTRIMMEDCURVE(#30,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(180.)),.T.,.PARAMETER.);\n#32=IFCCARTESIANPOINT((-100.,0.));\n#33=IFCCARTESIANPOINT((100.,0.));\n#34=IFCPOLYLINE((#32,#33));\n#35=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#31);\n#36=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#34);\n#37=IFCCOMPOSITECURVE((#35,#36),.F.);\n#40=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#37);"),
}

// outline is an L-shaped polyline, #35.
const outline = "#30=IFCCARTESIANPOINT((300.,0.));\n#31=IFCCARTESIANPOINT((300.,100.));\n#32=IFCCARTESIANPOINT((100.,100.));\n#33=IFCCARTESIANPOINT((100.,200.));\n#34=IFCCARTESIANPOINT((0.,200.));\n#35=IFCPOLYLINE((#6,#30,#31,#32,#33,#34,#6));\n"

// blockFaces are the six faces of the box between two corners as a shell.
const cornerPoints = "#20=IFCCARTESIANPOINT((0.,0.,0.));\n#21=IFCCARTESIANPOINT((100.,0.,0.));\n#22=IFCCARTESIANPOINT((100.,80.,0.));\n#23=IFCCARTESIANPOINT((0.,80.,0.));\n#24=IFCCARTESIANPOINT((0.,0.,60.));\n#25=IFCCARTESIANPOINT((100.,0.,60.));\n#26=IFCCARTESIANPOINT((100.,80.,60.));\n#27=IFCCARTESIANPOINT((0.,80.,60.));\n"

const boxFaces = cornerPoints +
	"#30=IFCPOLYLOOP((#20,#23,#22,#21));\n#31=IFCFACEOUTERBOUND(#30,.T.);\n#32=IFCFACE((#31));\n" +
	"#33=IFCPOLYLOOP((#24,#25,#26,#27));\n#34=IFCFACEOUTERBOUND(#33,.T.);\n#35=IFCFACE((#34));\n" +
	"#36=IFCPOLYLOOP((#20,#21,#25,#24));\n#37=IFCFACEOUTERBOUND(#36,.T.);\n#38=IFCFACE((#37));\n" +
	"#39=IFCPOLYLOOP((#21,#22,#26,#25));\n#40=IFCFACEOUTERBOUND(#39,.T.);\n#41=IFCFACE((#40));\n" +
	"#42=IFCPOLYLOOP((#22,#23,#27,#26));\n#43=IFCFACEOUTERBOUND(#42,.T.);\n#44=IFCFACE((#43));\n" +
	"#45=IFCPOLYLOOP((#27,#23,#20,#24));\n#46=IFCFACEOUTERBOUND(#45,.T.);\n#47=IFCFACE((#46));\n"

// innerFaces are those of a smaller box inside, #61 to #66.
const innerFaces = "#50=IFCCARTESIANPOINT((20.,20.,20.));\n#51=IFCCARTESIANPOINT((80.,20.,20.));\n#52=IFCCARTESIANPOINT((20.,60.,20.));\n#53=IFCCARTESIANPOINT((20.,20.,40.));\n" +
	"#54=IFCPOLYLOOP((#50,#51,#52));\n#55=IFCPOLYLOOP((#50,#53,#51));\n#56=IFCPOLYLOOP((#50,#52,#53));\n#57=IFCPOLYLOOP((#51,#53,#52));\n" +
	"#61=IFCFACEOUTERBOUND(#54,.T.);\n#62=IFCFACEOUTERBOUND(#55,.T.);\n#63=IFCFACEOUTERBOUND(#56,.T.);\n#64=IFCFACEOUTERBOUND(#57,.T.);\n#65=IFCFACE((#61));\n#66=IFCFACE((#62));\n#67=IFCFACE((#63));\n#68=IFCFACE((#64));\n"

// bounded are bodies given by their faces.
var bounded = []word{
	{"faceted brep", boxFaces + "#70=IFCCLOSEDSHELL((#32,#35,#38,#41,#44,#47));\n#71=IFCFACETEDBREP(#70);", "Brep"},
	{"faceted brep with a bound turned round", strings.Replace(boxFaces, "#45=IFCPOLYLOOP((#27,#23,#20,#24));\n#46=IFCFACEOUTERBOUND(#45,.T.)", "#45=IFCPOLYLOOP((#24,#20,#23,#27));\n#46=IFCFACEOUTERBOUND(#45,.F.)", 1) + "#70=IFCCLOSEDSHELL((#32,#35,#38,#41,#44,#47));\n#71=IFCFACETEDBREP(#70);", "Brep"},
	{"faceted brep with a void", boxFaces + innerFaces + "#70=IFCCLOSEDSHELL((#32,#35,#38,#41,#44,#47));\n#71=IFCCLOSEDSHELL((#65,#66,#67,#68));\n#72=IFCFACETEDBREPWITHVOIDS(#70,(#71));", "Brep"},
	{"shell model closed", boxFaces + "#70=IFCCLOSEDSHELL((#32,#35,#38,#41,#44,#47));\n#71=IFCSHELLBASEDSURFACEMODEL((#70));", "SurfaceModel"},
	{"shell model called open", boxFaces + "#70=IFCOPENSHELL((#32,#35,#38,#41,#44,#47));\n#71=IFCSHELLBASEDSURFACEMODEL((#70));", "SurfaceModel"},
	{"face model in two sets", boxFaces + "#70=IFCCONNECTEDFACESET((#32,#35,#38));\n#71=IFCCONNECTEDFACESET((#41,#44,#47));\n#72=IFCFACEBASEDSURFACEMODEL((#70,#71));", "SurfaceModel"},
	{"face model open", boxFaces + "#70=IFCCONNECTEDFACESET((#32,#35,#38));\n#72=IFCFACEBASEDSURFACEMODEL((#70));", "SurfaceModel"},
	{"triangles", "#20=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(100.,0.,0.),(0.,80.,0.),(0.,0.,60.)));\n#21=IFCTRIANGULATEDFACESET(#20,$,.T.,((1,3,2),(1,2,4),(2,3,4),(3,1,4)),$);", "Tessellation"},
	{"triangles by a second index", "#20=IFCCARTESIANPOINTLIST3D(((9.,9.,9.),(0.,0.,0.),(100.,0.,0.),(0.,80.,0.),(0.,0.,60.)));\n#21=IFCTRIANGULATEDFACESET(#20,$,.T.,((1,3,2),(1,2,4),(2,3,4),(3,1,4)),(2,3,4,5));", "Tessellation"},
	{"triangles that face inwards", "#20=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(100.,0.,0.),(0.,80.,0.),(0.,0.,60.)));\n#21=IFCTRIANGULATEDFACESET(#20,$,$,((2,3,1),(4,2,1),(4,3,2),(4,1,3)),$);", "Tessellation"},
	{"irregular network open", "#20=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(100.,0.,0.),(0.,80.,0.),(0.,0.,60.)));\n#21=IFCTRIANGULATEDIRREGULARNETWORK(#20,$,.F.,((1,3,2),(1,2,4)),$,(0,0));", "Tessellation"},
	{"polygons", "#20=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(100.,0.,0.),(100.,80.,0.),(0.,80.,0.),(0.,0.,60.),(100.,0.,60.),(100.,80.,60.),(0.,80.,60.)));\n" +
		"#21=IFCINDEXEDPOLYGONALFACE((1,4,3,2));\n#22=IFCINDEXEDPOLYGONALFACE((5,6,7,8));\n#23=IFCINDEXEDPOLYGONALFACE((1,2,6,5));\n#24=IFCINDEXEDPOLYGONALFACE((2,3,7,6));\n#25=IFCINDEXEDPOLYGONALFACE((3,4,8,7));\n#26=IFCINDEXEDPOLYGONALFACE((4,1,5,8));\n#27=IFCPOLYGONALFACESET(#20,.T.,(#21,#22,#23,#24,#25,#26),$);", "Tessellation"},
	{"polygons with inner rings", "#20=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(100.,0.,0.),(100.,80.,0.),(0.,80.,0.),(0.,0.,60.),(100.,0.,60.),(100.,80.,60.),(0.,80.,60.),(20.,20.,0.),(60.,20.,0.),(60.,50.,0.),(20.,50.,0.),(20.,20.,60.),(60.,20.,60.),(60.,50.,60.),(20.,50.,60.)));\n" +
		"#21=IFCINDEXEDPOLYGONALFACEWITHVOIDS((1,4,3,2),((9,10,11,12)));\n#22=IFCINDEXEDPOLYGONALFACEWITHVOIDS((5,6,7,8),((16,15,14,13)));\n#23=IFCINDEXEDPOLYGONALFACE((1,2,6,5));\n#24=IFCINDEXEDPOLYGONALFACE((2,3,7,6));\n#25=IFCINDEXEDPOLYGONALFACE((3,4,8,7));\n#26=IFCINDEXEDPOLYGONALFACE((4,1,5,8));\n" +
		"#30=IFCINDEXEDPOLYGONALFACE((9,13,14,10));\n#31=IFCINDEXEDPOLYGONALFACE((10,14,15,11));\n#32=IFCINDEXEDPOLYGONALFACE((11,15,16,12));\n#33=IFCINDEXEDPOLYGONALFACE((12,16,13,9));\n#34=IFCPOLYGONALFACESET(#20,.T.,(#21,#22,#23,#24,#25,#26,#30,#31,#32,#33),$);", "Tessellation"},
	{"bounding box", "#20=IFCBOUNDINGBOX(#1,100.,80.,60.);", "BoundingBox"},
	{"advanced brep of a cylinder", drum + "#60=IFCCYLINDRICALSURFACE(#5,50.);\n" + drumSide + "#71=IFCADVANCEDBREP(#70);", "AdvancedBrep"},
	{"advanced brep over an extruded circle", drum + "#58=IFCCIRCLE(#7,50.);\n#59=IFCARBITRARYOPENPROFILEDEF(.CURVE.,$,#58);\n#60=IFCSURFACEOFLINEAREXTRUSION(#59,#5,#2,100.);\n" + drumSide + "#71=IFCADVANCEDBREP(#70);", "AdvancedBrep"},
	{"advanced brep of a revolved line", drum + "#55=IFCCARTESIANPOINT((50.,0.,0.));\n#56=IFCCARTESIANPOINT((50.,0.,100.));\n#57=IFCPOLYLINE((#55,#56));\n#58=IFCARBITRARYOPENPROFILEDEF(.CURVE.,$,#57);\n#59=IFCAXIS1PLACEMENT(#1,#2);\n#60=IFCSURFACEOFREVOLUTION(#58,#5,#59);\n" + drumSide + "#71=IFCADVANCEDBREP(#70);", "AdvancedBrep"},
	{"advanced brep of a rational B-spline surface", drum + splineDrum + drumSide + "#71=IFCADVANCEDBREP(#70);", "AdvancedBrep"},
	{"advanced brep of a bulging B-spline face", bulge, "AdvancedBrep"},
}

// drum is two circles of radius 50 at z 0 and 100 and the faces that fill them,
// #42 and #49; drumSide is the face between them, on the surface #60.
const drum = "#20=IFCCARTESIANPOINT((50.,0.,0.));\n#21=IFCCARTESIANPOINT((50.,0.,100.));\n#22=IFCVERTEXPOINT(#20);\n#23=IFCVERTEXPOINT(#21);\n" +
	"#24=IFCCIRCLE(#5,50.);\n#25=IFCCARTESIANPOINT((0.,0.,100.));\n#26=IFCAXIS2PLACEMENT3D(#25,$,$);\n#27=IFCCIRCLE(#26,50.);\n" +
	"#28=IFCEDGECURVE(#22,#22,#24,.T.);\n#29=IFCEDGECURVE(#23,#23,#27,.T.);\n#30=IFCPOLYLINE((#20,#21));\n#31=IFCEDGECURVE(#22,#23,#30,.T.);\n" +
	"#32=IFCPLANE(#5);\n#33=IFCPLANE(#26);\n" +
	"#39=IFCORIENTEDEDGE(*,*,#28,.F.);\n#40=IFCEDGELOOP((#39));\n#41=IFCFACEOUTERBOUND(#40,.T.);\n#42=IFCADVANCEDFACE((#41),#32,.F.);\n" +
	"#46=IFCORIENTEDEDGE(*,*,#29,.T.);\n#47=IFCEDGELOOP((#46));\n#48=IFCFACEOUTERBOUND(#47,.T.);\n#49=IFCADVANCEDFACE((#48),#33,.T.);\n"

const drumSide = "#61=IFCORIENTEDEDGE(*,*,#28,.T.);\n#62=IFCORIENTEDEDGE(*,*,#31,.T.);\n#63=IFCORIENTEDEDGE(*,*,#29,.F.);\n#64=IFCORIENTEDEDGE(*,*,#31,.F.);\n#65=IFCEDGELOOP((#61,#62,#63,#64));\n#66=IFCFACEOUTERBOUND(#65,.T.);\n#67=IFCADVANCEDFACE((#66),#60,.T.);\n#70=IFCCLOSEDSHELL((#42,#49,#67));\n"

// splineDrum is the cylinder as a rational B-spline surface of degree 2 and 1:
// nine points round, weights 1 and the half root of 2 in turn.
const splineDrum = "#80=IFCCARTESIANPOINT((50.,50.,0.));\n#81=IFCCARTESIANPOINT((50.,50.,100.));\n#82=IFCCARTESIANPOINT((0.,50.,0.));\n#83=IFCCARTESIANPOINT((0.,50.,100.));\n#84=IFCCARTESIANPOINT((-50.,50.,0.));\n#85=IFCCARTESIANPOINT((-50.,50.,100.));\n" +
	"#86=IFCCARTESIANPOINT((-50.,0.,0.));\n#87=IFCCARTESIANPOINT((-50.,0.,100.));\n#88=IFCCARTESIANPOINT((-50.,-50.,0.));\n#89=IFCCARTESIANPOINT((-50.,-50.,100.));\n#90=IFCCARTESIANPOINT((0.,-50.,0.));\n#91=IFCCARTESIANPOINT((0.,-50.,100.));\n#92=IFCCARTESIANPOINT((50.,-50.,0.));\n#93=IFCCARTESIANPOINT((50.,-50.,100.));\n" +
	"#60=IFCRATIONALBSPLINESURFACEWITHKNOTS(2,1,((#20,#21),(#80,#81),(#82,#83),(#84,#85),(#86,#87),(#88,#89),(#90,#91),(#92,#93),(#20,#21)),.CYLINDRICAL_SURF.,.T.,.F.,.F.,(3,2,2,2,3),(2,2),(0.,1.,2.,3.,4.),(0.,1.),.UNSPECIFIED.," +
	"((1.,1.),(0.7071067811865476,0.7071067811865476),(1.,1.),(0.7071067811865476,0.7071067811865476),(1.,1.),(0.7071067811865476,0.7071067811865476),(1.,1.),(0.7071067811865476,0.7071067811865476),(1.,1.)));\n"

// bulge is a box of 100 x 100 x 50 whose top is a B-spline patch of degree 2
// that rises by 10 in its middle: its control point by 40.
const bulge = "#20=IFCCARTESIANPOINT((0.,0.,0.));\n#21=IFCCARTESIANPOINT((100.,0.,0.));\n#22=IFCCARTESIANPOINT((100.,100.,0.));\n#23=IFCCARTESIANPOINT((0.,100.,0.));\n#24=IFCCARTESIANPOINT((0.,0.,50.));\n#25=IFCCARTESIANPOINT((100.,0.,50.));\n#26=IFCCARTESIANPOINT((100.,100.,50.));\n#27=IFCCARTESIANPOINT((0.,100.,50.));\n" +
	"#30=IFCPOLYLOOP((#20,#23,#22,#21));\n#31=IFCFACEOUTERBOUND(#30,.T.);\n#32=IFCFACE((#31));\n#33=IFCPOLYLOOP((#20,#21,#25,#24));\n#34=IFCFACEOUTERBOUND(#33,.T.);\n#35=IFCFACE((#34));\n#36=IFCPOLYLOOP((#21,#22,#26,#25));\n#37=IFCFACEOUTERBOUND(#36,.T.);\n#38=IFCFACE((#37));\n" +
	"#39=IFCPOLYLOOP((#22,#23,#27,#26));\n#40=IFCFACEOUTERBOUND(#39,.T.);\n#41=IFCFACE((#40));\n#42=IFCPOLYLOOP((#23,#20,#24,#27));\n#43=IFCFACEOUTERBOUND(#42,.T.);\n#44=IFCFACE((#43));\n" +
	"#50=IFCCARTESIANPOINT((50.,0.,50.));\n#51=IFCCARTESIANPOINT((100.,50.,50.));\n#52=IFCCARTESIANPOINT((50.,100.,50.));\n#53=IFCCARTESIANPOINT((0.,50.,50.));\n#54=IFCCARTESIANPOINT((50.,50.,90.));\n" +
	"#55=IFCBSPLINESURFACEWITHKNOTS(2,2,((#24,#53,#27),(#50,#54,#52),(#25,#51,#26)),.UNSPECIFIED.,.F.,.F.,.F.,(3,3),(3,3),(0.,1.),(0.,1.),.UNSPECIFIED.);\n" +
	"#56=IFCPOLYLOOP((#24,#25,#26,#27));\n#57=IFCFACEOUTERBOUND(#56,.T.);\n#58=IFCFACESURFACE((#57),#55,.T.);\n#70=IFCCLOSEDSHELL((#32,#35,#38,#41,#44,#58));\n#71=IFCADVANCEDBREP(#70);"

// csg are primitives and Boolean results.
var csg = []word{
	{"block", "#20=IFCBLOCK(#11,100.,80.,60.);\n#21=IFCCSGSOLID(#20);", "CSG"},
	{"pyramid", "#20=IFCRECTANGULARPYRAMID(#11,100.,80.,60.);\n#21=IFCCSGSOLID(#20);", "CSG"},
	{"cone", "#20=IFCRIGHTCIRCULARCONE(#11,100.,40.);\n#21=IFCCSGSOLID(#20);", "CSG"},
	{"cylinder", "#20=IFCRIGHTCIRCULARCYLINDER(#11,100.,40.);\n#21=IFCCSGSOLID(#20);", "CSG"},
	{"sphere", "#20=IFCSPHERE(#11,60.);\n#21=IFCCSGSOLID(#20);", "CSG"},
	{"primitive bare", "#20=IFCBLOCK(#11,100.,80.,60.);", "CSG"},
	{"difference", two + "#30=IFCBOOLEANRESULT(.DIFFERENCE.,#20,#23);", "CSG"},
	{"union", two + "#30=IFCBOOLEANRESULT(.UNION.,#20,#23);", "CSG"},
	{"intersection", two + "#30=IFCBOOLEANRESULT(.INTERSECTION.,#20,#23);", "CSG"},
	{"nested", two + "#30=IFCBOOLEANRESULT(.UNION.,#20,#23);\n#31=IFCRIGHTCIRCULARCYLINDER(#5,200.,20.);\n#32=IFCBOOLEANRESULT(.DIFFERENCE.,#30,#31);\n#33=IFCBLOCK(#5,90.,200.,200.);\n#34=IFCBOOLEANRESULT(.INTERSECTION.,#32,#33);\n#35=IFCCSGSOLID(#34);", "CSG"},
	{"difference of a difference", two + "#31=IFCRIGHTCIRCULARCYLINDER(#22,200.,20.);\n#32=IFCBOOLEANRESULT(.DIFFERENCE.,#23,#31);\n#33=IFCBOOLEANRESULT(.DIFFERENCE.,#20,#32);", "CSG"},
	{"flush cut", "#20=IFCBLOCK(#5,100.,80.,60.);\n#21=IFCBLOCK(#5,50.,80.,30.);\n#22=IFCBOOLEANRESULT(.DIFFERENCE.,#20,#21);", "CSG"},
	{"half-space", slab + "#30=IFCHALFSPACESOLID(#26,.F.);\n#31=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#21,#30);", "Clipping"},
	{"half-space in agreement", slab + "#30=IFCHALFSPACESOLID(#26,.T.);\n#31=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#21,#30);", "Clipping"},
	{"boxed half-space", slab + "#29=IFCBOUNDINGBOX(#1,500.,500.,500.);\n#30=IFCBOXEDHALFSPACE(#26,.F.,#29);\n#31=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#21,#30);", "Clipping"},
	{"bounded half-space", slab + "#27=IFCCARTESIANPOINT((0.,200.));\n#28=IFCCARTESIANPOINT((60.,200.));\n#29=IFCCARTESIANPOINT((60.,-200.));\n#32=IFCCARTESIANPOINT((0.,-200.));\n#33=IFCPOLYLINE((#27,#28,#29,#32,#27));\n#30=IFCPOLYGONALBOUNDEDHALFSPACE(#26,.F.,#5,#33);\n#31=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#21,#30);", "Clipping"},
	{"two half-spaces", slab + "#30=IFCHALFSPACESOLID(#26,.F.);\n#31=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#21,#30);\n#32=IFCAXIS2PLACEMENT3D(#1,#3,#4);\n#33=IFCPLANE(#32);\n#34=IFCHALFSPACESOLID(#33,.T.);\n#35=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#31,#34);", "Clipping"},
}

// two are a block and a cylinder that meet.
const two = "#20=IFCBLOCK(#5,100.,80.,60.);\n#21=IFCCARTESIANPOINT((100.,40.,-10.));\n#22=IFCAXIS2PLACEMENT3D(#21,$,$);\n#23=IFCRIGHTCIRCULARCYLINDER(#22,80.,30.);\n"

// slab is an extrusion, #21, and a leaning plane through it, #26.
const slab = "#20=IFCRECTANGLEPROFILEDEF(.AREA.,$,#7,200.,100.);\n#21=IFCEXTRUDEDAREASOLID(#20,#5,#2,80.);\n#24=IFCCARTESIANPOINT((20.,0.,40.));\n#25=IFCAXIS2PLACEMENT3D(#24,#9,#10);\n#26=IFCPLANE(#25);\n"

// byHand is the volume in mm3 of items that the other reader does not read, or
// reads in another way, worked out from their sizes. Sections are those of the
// tables of EN 10365 (IPE 300), EN 10056-1 (L 150x100x12), EN 10055 (T 100) and
// DIN 1026 (UPN 200), values from memory, times a length of 1000.
var byHand = map[string]float64{
	"extruded askew":                   20000 * 80 * 0.9 / math.Sqrt(0.3*0.3+0.2*0.2+0.9*0.9),
	"revolved tapered":                 70 * math.Pi / 180 * 150 * (20000 - (200*40+100*100)/2 + 100*40/3.), // sizes shrink evenly, the centre 150 from the axis
	"disk filleted":                    20 * 20 * math.Pi * (240 + 140 + 60*math.Pi/2),
	"sectioned spine":                  45000 * (1 + 0.5 + 0.25) / 3 * 2000,
	"fixed reference":                  40 * 20 * 600,
	"rounded rectangle":                (20000 - 20*20*(4-math.Pi)) * 1000,
	"I":                                5381e3,
	"asymmetric I":                     (200*12 + 150*10 + 278*8) * 1000,
	"L":                                2870e3,
	"U sloping":                        3220e3,
	"C rounded":                        (186 + 2*66 + 2*18 + 2*math.Pi*5.5) * 3 * 1000, // along the middle of the sheet
	"Z":                                (2*75*11 + 178*8) * 1000,
	"T rounded":                        2090e3,
	"centre line":                      250 * 10 * 1000,
	"derived":                          40000 * 1.5 * 1.5 * 1000,
	"mirrored":                         40000 * 1000,
	"B-spline outline":                 23500e3, // summed over 200 000 points of the curve
	"rational B-spline outline":        math.Pi / 4 * 200 * 200 * 1000,
	"triangles by a second index":      100 * 80 * 60 / 6.,
	"advanced brep of a revolved line": math.Pi * 50 * 50 * 100,
	"advanced brep of a rational B-spline surface": math.Pi * 50 * 50 * 100,
	"advanced brep of a bulging B-spline face":     100*100*50 + 40*100*100/9.,
	"pyramid":          100 * 80 * 60 / 3.,
	"boxed half-space": 120 * 100 * 80, // the middle of the leaning cut is 120 from the end
}
