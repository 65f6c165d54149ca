package rod

// edgeTable finds the third corner of the triangle that an edge from a to b
// belongs to. Of several triangles with the same edge the first counts.
type edgeTable struct {
	keys []uint64 // 0 is free; vertex numbers are kept plus one
	apex []int32
	mask uint64
}

func newEdgeTable(n int) *edgeTable {
	size := uint64(16)
	for size < 2*uint64(n) {
		size *= 2
	}
	return &edgeTable{make([]uint64, size), make([]int32, size), size - 1}
}

func (t *edgeTable) slot(a, b int32) (uint64, uint64) {
	key := uint64(a+1)<<32 | uint64(b+1)
	h := key * 0x9e3779b97f4a7c15
	i := (h ^ h>>29) & t.mask
	for t.keys[i] != 0 && t.keys[i] != key {
		i = (i + 1) & t.mask
	}
	return i, key
}

func (t *edgeTable) put(a, b, apex int32) {
	if i, key := t.slot(a, b); t.keys[i] == 0 {
		t.keys[i], t.apex[i] = key, apex
	}
}

func (t *edgeTable) opposite(a, b int32) (int32, bool) {
	i, _ := t.slot(a, b)
	return t.apex[i], t.keys[i] != 0
}
