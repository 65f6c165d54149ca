package geom

// noSide marks a side of a triangle without a neighbour.
const noSide = -1

// adjacency is, for side k of triangle t, the side of another triangle that runs
// the other way between the same vertices, as 3*triangle + side; noSide without
// one. Where several sides run one way, each is paired once. It works on vertex
// numbers below n: weld first.
func adjacency(n int, tris [][3]int32) [][3]int32 {
	from := make([]int32, n+1) // sides that start at vertex v are out[from[v]:from[v+1]]
	for _, t := range tris {
		for _, v := range t {
			from[v+1]++
		}
	}
	for v := range n {
		from[v+1] += from[v]
	}
	out := make([]int32, 3*len(tris))
	fill := make([]int32, n)
	for t, vs := range tris {
		for k, v := range vs {
			out[from[v]+fill[v]] = int32(3*t + k)
			fill[v]++
		}
	}
	adj := make([][3]int32, len(tris))
	for i := range adj {
		adj[i] = [3]int32{noSide, noSide, noSide}
	}
	for t, vs := range tris {
		for k := range vs {
			if adj[t][k] != noSide {
				continue
			}
			a, b := vs[k], vs[(k+1)%3]
			for _, s := range out[from[b]:from[b+1]] {
				o, j := s/3, s%3
				if tris[o][(j+1)%3] == a && adj[o][j] == noSide && int(o) != t {
					adj[t][k], adj[o][j] = s, int32(3*t+k)
					break
				}
			}
		}
	}
	return adj
}
