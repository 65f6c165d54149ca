package rules

import "sync/atomic"

// counter hands out 0, 1, 2 and so on.
type counter struct{ n atomic.Int64 }

func (c *counter) take() int { return int(c.n.Add(1)) - 1 }
