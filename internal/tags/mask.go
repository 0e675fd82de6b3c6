package tags

// Penalties by which the mask of a QR code is chosen (ISO/IEC 18004, evaluation of data masking results,
// from memory).
const (
	perRun     = 3  // five modules of one colour in a row; 1 more for each further one
	perBlock   = 3  // two by two modules of one colour
	perFinder  = 40 // what looks like the pattern of a corner
	perBalance = 10 // each 5 % by which dark and light are not half and half
)

// penalty is how hard a code is to read; less is better.
func (s symbol) penalty() int {
	n, dark, total := len(s), 0, 0
	column := make([]bool, n)
	for i := range s {
		for j := range s {
			column[j] = s[j][i]
			if s[i][j] {
				dark++
			}
			if i+1 < n && j+1 < n && s[i][j] == s[i][j+1] && s[i][j] == s[i+1][j] && s[i][j] == s[i+1][j+1] {
				total += perBlock
			}
		}
		total += linePenalty(s[i]) + linePenalty(column)
	}
	off := dark*20 - n*n*10 // twentieths of all modules away from the half
	return total + max(off, -off)/(n*n)*perBalance
}

// linePenalty is that of a row or column by itself.
func linePenalty(line []bool) int {
	total, run, last11 := 0, 0, 0
	for i, dark := range line {
		if i > 0 && dark == line[i-1] {
			run++
		} else {
			run = 1
		}
		switch {
		case run == 5:
			total += perRun
		case run > 5:
			total++
		}
		last11 = last11 << 1 & 0b11111111111
		if dark {
			last11 |= 1
		}
		if i >= 10 && (last11 == 0b10111010000 || last11 == 0b00001011101) {
			total += perFinder
		}
	}
	return total
}
