package rules

// All is every rule, in the order in which lists and documentation show them.
var All = []*Rule{
	EdgeDistance,
	PlateEdge,
	Spacing,
	ConcreteCone,
	SupplementaryBars,
	SideFace,
	EmbedmentDepth,
	BackCover,
	Through,
	TwoHosts,
	MemberThickness,
	HookDirection,
	Access,
	ReinforcementClearance,
	ItemClearance,
	SquareToFace,
	Flush,
	FaceSide,
	OwnRecess,
	Projection,
	ThreadLength,
	SetPattern,
	TemplateStandoff,
	PartsComplete,
	Level,
	LifterBalance,
	LifterCount,
	StandardSize,
	SizeMismatch,
	SizeStated,
	FinishStated,
	FinishExposure,
	GradeStated,
	TorqueStated,
	MarkUnique,
	Duplicate,
	Unhosted,
	PositionMeasured,
	DepthMeasured,
	SizeMeasured,
	NotChecked,
}

// Find is the rule with an ID, nil when there is none.
func Find(id string) *Rule {
	for _, r := range All {
		if r.ID == id {
			return r
		}
	}
	return nil
}
