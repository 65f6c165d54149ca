package shape

import (
	"sync"

	"embedcheck/ifcread"
)

// cache keeps values by instance number. Two goroutines may compute the same
// value at the same time; the first one kept is the one both get. So nothing
// waits for anything, and a cycle in the file cannot lock two readers up.
type cache[V any] struct {
	parts [64]cachePart[V]
}

type cachePart[V any] struct {
	mu sync.RWMutex
	m  map[ifcread.ID]V
}

func (c *cache[V]) part(id ifcread.ID) *cachePart[V] {
	return &c.parts[uint64(id)%uint64(len(c.parts))]
}

func (c *cache[V]) get(id ifcread.ID) (V, bool) {
	p := c.part(id)
	p.mu.RLock()
	v, ok := p.m[id]
	p.mu.RUnlock()
	return v, ok
}

// put keeps v unless there is a value already, and returns the kept one.
func (c *cache[V]) put(id ifcread.ID, v V) V {
	p := c.part(id)
	p.mu.Lock()
	defer p.mu.Unlock()
	if old, ok := p.m[id]; ok {
		return old
	}
	if p.m == nil {
		p.m = map[ifcread.ID]V{}
	}
	p.m[id] = v
	return v
}
