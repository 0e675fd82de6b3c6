package assign

// Router routes stems from classes to lines for those who have settled how many each line gets.
type Router struct{ r *routing }

// NewRouter has nothing routed yet.
func NewRouter(p Problem) Router { return Router{newRouting(newNetwork(p))} }

// Grow gives a line up to so many stems more, though none that leave another line with fewer, and says how many.
func (r Router) Grow(line int, stems int64) int64 { return r.r.grow(line, stems) }

// Shrink takes stems from a line.
func (r Router) Shrink(line int, stems int64) { r.r.shrink(line, stems) }

// Got is how many stems a line has.
func (r Router) Got(line int) int64 { return r.r.got[line] }

// Left is how many stems of a class are with no line.
func (r Router) Left(class int) int64 { return r.r.left[class] }

// Flow is how many stems of a class a line has.
func (r Router) Flow(class, line int) int64 { return r.r.flow[class*len(r.r.lines)+line] }

// Bound is what no whole lots, of whatever least, are worth more than: the worth of broken ones.
func Bound(p Problem) int64 {
	n := newNetwork(p)
	r := newRouting(n)
	r.fill(n.most())
	return n.whole(r.value())
}
