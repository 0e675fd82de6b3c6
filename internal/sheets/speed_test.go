package sheets

import (
	"fmt"
	"strings"
	"testing"

	"corymb/internal/crop"
)

// largeFarm is 3,000 plants in 30 beds and 150,001 rows of cuts over three seasons: each plant is cut
// on 8 or 9 days a season, each time in two grades.
func largeFarm() (plants, cuts string) {
	var p, c strings.Builder
	p.WriteString(plantHead)
	c.WriteString(cutHead)
	rows := 0
	for i := range 3000 {
		bed := fmt.Sprint("bed ", i/100)
		fmt.Fprintf(&p, "P%04d,mix,%s,2022-09-20\n", i, bed)
		for k := 0; k < 25 && rows <= 150_000; k++ {
			day := crop.Date(fmt.Sprintf("%d-05-01", 2023+k%3)).Add(7*(k/3) + i%7)
			for _, grade := range []string{"first", "extra"} {
				fmt.Fprintf(&c, "%s,P%04d,mix,%s,2022-09-20,%d,spring,%s,50,%d,brick,Inés\n",
					day, i, bed, 1+k%3, grade, 1+(i+k)%5)
				rows++
			}
		}
	}
	return p.String(), c.String()
}

func BenchmarkRead150000Rows(b *testing.B) {
	plants, cuts := largeFarm()
	b.Logf("%d rows", strings.Count(cuts, "\n")-1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := readText(plants, cuts); err != nil {
			b.Fatal(err)
		}
	}
}
