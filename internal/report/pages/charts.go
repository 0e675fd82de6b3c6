package pages

import (
	"fmt"
	"math"

	"corymb/internal/report"
)

// Charts stand between names on the left and what is said on the right.
const (
	chartGap   = 3.0
	chartTitle = 4.6
	saidWidth  = 44.0
	saidShort  = 24.0
	rangeRow   = 5.6
	axisRoom   = 5.5
	stackRow   = 7.2
	keyRoom    = 6.0
	weeksRoom  = 35.0
)

// chartHeight is all that a chart takes.
func chartHeight(part report.Part) float64 {
	switch p := part.(type) {
	case report.Ranges:
		return chartGap + chartTitle + float64(len(p.Rows))*rangeRow + axisRoom
	case report.Stacks:
		return chartGap + chartTitle + keyRoom + float64(len(p.Rows))*stackRow
	default:
		return chartGap + chartTitle + keyRoom + weeksRoom + axisRoom
	}
}

func (s *sheet) chart(part report.Part) {
	switch p := part.(type) {
	case report.Ranges:
		s.chartHead(p.Title)
		s.ranges(p)
	case report.Stacks:
		s.chartHead(p.Title)
		s.stacks(p)
	case report.Weeks:
		s.chartHead(p.Title)
		s.weeks(p)
	}
}

func (s *sheet) chartHead(title string) {
	s.y += chartGap + chartTitle - 1.4
	s.font(bold, tableType)
	s.put(title, margin, s.width(), left)
	s.y += 1.4
	s.pdf.SetDrawColor(0, 0, 0)
	s.pdf.SetFillColor(0, 0, 0)
	s.font(regular, tableType)
}

// nameWidth is what the longest of a chart's names takes, and some room.
func (s *sheet) nameWidth(n int, name func(int) string) float64 {
	const least, room = 34.0, 5.0
	widest := least
	for i := range n {
		widest = max(widest, s.pdf.GetStringWidth(name(i))+room)
	}
	return widest
}

// axis is a scale from 0 to the end of a length.
type axis struct{ from, length, most, step float64 }

// axisTo ends at a round number that holds the most; some five steps lead to it, of whole numbers, which all languages write
// alike.
func axisTo(most, from, length float64) axis {
	if most <= 0 {
		most = 1
	}
	step := math.Pow(10, math.Floor(math.Log10(most/4)))
	for _, times := range []float64{1, 2, 2.5, 5, 10} {
		if most/(step*times) <= 5 && (step*times == math.Trunc(step*times) || step < 1) {
			step *= times
			break
		}
	}
	step = math.Max(step, 1)
	return axis{from, length, math.Ceil(most/step) * step, step}
}

func (a axis) at(v float64) float64 { return a.from + a.length*math.Min(v, a.most)/a.most }

func (s *sheet) ranges(p report.Ranges) {
	most := p.Most
	for _, row := range p.Rows {
		most = math.Max(most, math.Max(row.Hi, row.Plain))
	}
	nameWidth := s.nameWidth(len(p.Rows), func(i int) string { return p.Rows[i].Name })
	a := axisTo(most, margin+nameWidth, s.width()-nameWidth-saidWidth)
	top := s.y
	for _, row := range p.Rows {
		y := s.y + rangeRow/2
		s.putAt(row.Name, margin, y+1, nameWidth-2, left)
		s.putAt(row.Said, s.paper.Width-margin-saidWidth+2, y+1, saidWidth-2, left)
		s.whisker(a.at(row.Lo), a.at(row.Hi), y)
		s.pdf.Circle(a.at(row.Mid), y, 1.05, "F")
		if row.PlainPresent {
			s.triangle(a.at(row.Plain), y+1.5)
		}
		s.y += rangeRow
	}
	s.pdf.SetDashPattern([]float64{0.4, 0.9}, 0)
	s.pdf.SetLineWidth(0.1)
	for v := 0.0; v <= a.most+a.step/2; v += a.step {
		s.pdf.Line(a.at(v), top, a.at(v), s.y)
	}
	s.pdf.SetDashPattern(nil, 0)
	s.rule(a.from, a.from+a.length, s.y, thin)
	for v := 0.0; v <= a.most+a.step/2; v += a.step {
		s.putAt(fmt.Sprint(v), a.at(v)-10, s.y+3.4, 20, middle)
	}
	s.y += axisRoom
}

// whisker is an interval along a line, with ends.
func (s *sheet) whisker(from, to, y float64) {
	const end = 1.1
	s.rule(from, to, y, 0.35)
	s.pdf.Line(from, y-end, from, y+end)
	s.pdf.Line(to, y-end, to, y+end)
}

// triangle is an open mark that points up at x.
func (s *sheet) triangle(x, y float64) {
	s.pdf.SetLineWidth(0.2)
	s.pdf.Line(x, y-0.9, x-0.9, y+0.8)
	s.pdf.Line(x-0.9, y+0.8, x+0.9, y+0.8)
	s.pdf.Line(x+0.9, y+0.8, x, y-0.9)
}

func (s *sheet) stacks(p report.Stacks) {
	nameWidth := s.nameWidth(len(p.Rows), func(i int) string { return p.Rows[i].Name })
	x := margin + nameWidth
	for i, name := range p.Parts {
		const key = 6.0
		s.hatched(x, s.y+1, key, 3, i)
		wide := s.pdf.GetStringWidth(name) + 0.1
		s.putAt(name, x+key+1, s.y+3.6, wide, left)
		x += key + wide + 6
	}
	s.y += keyRoom
	length := s.width() - nameWidth - saidShort
	for _, row := range p.Rows {
		const high = 4.6
		s.putAt(row.Name, margin, s.y+3.4, nameWidth-2, left)
		at := margin + nameWidth
		for i, share := range row.Shares {
			s.hatched(at, s.y, length*share, high, i)
			s.shareIn(at, s.y+3.3, length*share, share, i)
			at += length * share
		}
		s.putAt(row.Said, margin+nameWidth+length+2, s.y+3.4, saidShort-2, left)
		s.y += stackRow
	}
}

// shareIn says a share within its part of the bar where there is room, on bare paper.
func (s *sheet) shareIn(x, y, width, share float64, pattern int) {
	text := fmt.Sprintf("%.0f %%", 100*share)
	wide := s.pdf.GetStringWidth(text)
	if wide+3 > width {
		return
	}
	if pattern < 3 {
		s.pdf.SetFillColor(255, 255, 255)
		s.pdf.Rect(x+width/2-wide/2-0.7, y-2.7, wide+1.4, 3.5, "F")
		s.pdf.SetFillColor(0, 0, 0)
	}
	s.putAt(text, x, y, width, middle)
}

// hatched is a box in one of four patterns: slanted, crossed, dotted and bare.
func (s *sheet) hatched(x, y, width, height float64, pattern int) {
	if width <= 0 {
		return
	}
	s.pdf.ClipRect(x, y, width, height, false)
	s.pdf.SetLineWidth(0.18)
	switch pattern {
	case 0:
		s.slanted(x, y, width, height, 1.0, false)
		s.slanted(x, y, width, height, 1.0, true)
	case 1:
		s.slanted(x, y, width, height, 1.3, false)
	case 2:
		for row, dy := 0, 0.6; dy < height; row, dy = row+1, dy+1.15 {
			for dx := 0.6 + 0.6*float64(row%2); dx < width; dx += 1.2 {
				s.pdf.Circle(x+dx, y+dy, 0.16, "F")
			}
		}
	}
	s.pdf.ClipEnd()
	s.pdf.SetLineWidth(0.2)
	s.pdf.Rect(x, y, width, height, "D")
}

func (s *sheet) slanted(x, y, width, height, apart float64, back bool) {
	for at := -height; at < width; at += apart {
		if back {
			s.pdf.Line(x+at, y, x+at+height, y+height)
		} else {
			s.pdf.Line(x+at, y+height, x+at+height, y)
		}
	}
}

func (s *sheet) weeks(p report.Weeks) {
	most := 0.0
	for _, week := range p.Rows {
		most = math.Max(most, math.Max(week.Hi, week.Came))
	}
	s.weeksKey(p)
	const scale = 12.0
	bottom := s.y + weeksRoom
	a := axisTo(most, 0, weeksRoom-3)
	y := func(v float64) float64 { return bottom - a.at(v) }
	for v := 0.0; v <= a.most+a.step/2; v += a.step {
		s.putAt(fmt.Sprint(v), margin, y(v)+1, scale-2, right)
		s.pdf.SetDashPattern([]float64{0.4, 0.9}, 0)
		s.rule(margin+scale, s.paper.Width-margin, y(v), 0.1)
		s.pdf.SetDashPattern(nil, 0)
	}
	s.rule(margin+scale, s.paper.Width-margin, bottom, thin)
	apart := (s.width() - scale) / float64(len(p.Rows))
	every := int(math.Ceil(14 / apart))
	for i, week := range p.Rows {
		x := margin + scale + (float64(i)+0.5)*apart
		s.band(x, y(week.Lo), y(week.Hi), y(week.Mean))
		s.fact(x, y(week.Came), week.Inside)
		if i%every == 0 {
			s.putAt(week.Name, x-10, bottom+3.6, 20, middle)
		}
	}
	s.y = bottom + axisRoom
}

// weeksKey says what the signs mean.
func (s *sheet) weeksKey(p report.Weeks) {
	x, y := margin+12, s.y+2.4
	for i, name := range []string{p.Band, p.Mean, p.Within, p.Apart} {
		switch i {
		case 0:
			s.band(x+1, y+2, y-2, y)
		case 1:
			s.rule(x, x+2.4, y, 0.5)
		default:
			s.fact(x+1, y, i == 2)
		}
		wide := s.pdf.GetStringWidth(name) + 0.1
		s.putAt(name, x+4, y+1, wide, left)
		x += wide + 10
	}
	s.y += keyRoom
}

// band is an upright interval with a tick at its mean.
func (s *sheet) band(x, lo, hi, mean float64) {
	s.pdf.SetLineWidth(0.3)
	s.pdf.Line(x, lo, x, hi)
	s.pdf.Line(x-0.9, lo, x+0.9, lo)
	s.pdf.Line(x-0.9, hi, x+0.9, hi)
	s.pdf.SetLineWidth(0.5)
	s.pdf.Line(x-1.2, mean, x+1.2, mean)
}

// fact is what came: a full point where it was within, an open square where it was not.
func (s *sheet) fact(x, y float64, inside bool) {
	if inside {
		s.pdf.Circle(x, y, 0.9, "F")
		return
	}
	s.pdf.SetFillColor(255, 255, 255)
	s.pdf.SetLineWidth(0.35)
	s.pdf.Rect(x-1, y-1, 2, 2, "FD")
	s.pdf.SetFillColor(0, 0, 0)
}
