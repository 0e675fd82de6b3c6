package crop

import "fmt"

// Grade is the quality of a head. The ids are fixed; the words shown and the criteria are the
// grower's. The empty Grade means untold.
type Grade string

// The grades, after the class idea of UNECE Standard H-1. Out is unsaleable.
const (
	GradeExtra  Grade = "extra"
	GradeFirst  Grade = "first"
	GradeSecond Grade = "second"
	GradeOut    Grade = "out"
)

// GradesLowToHigh orders the grades from the worst to the best.
var GradesLowToHigh = []Grade{GradeOut, GradeSecond, GradeFirst, GradeExtra}

// Rank is the grade's place in GradesLowToHigh, or -1 when untold or unknown.
func (g Grade) Rank() int {
	for i, k := range GradesLowToHigh {
		if k == g {
			return i
		}
	}
	return -1
}

// ParseGrade reads a grade's id; the empty string is untold.
func ParseGrade(s string) (Grade, error) {
	if g := Grade(s); s == "" || g.Rank() >= 0 {
		return g, nil
	}
	return "", fmt.Errorf("%q is not a grade: use extra, first, second, out, or leave it empty", s)
}
