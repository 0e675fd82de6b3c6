package stats

import "gonum.org/v1/gonum/stat/distuv"

// StudentT is the p-quantile of Student's t with df degrees of freedom, df above 0.
func StudentT(p, df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(p)
}
