package yield

import "corymb/internal/stats"

// MeanPriors are what common practice says of the logarithm of a planting's mean stems a plant in a season, for models
// other than this package's: they are its own. A mean is the first season's and a step for each season after it, times
// effects of the season and the planting, and for plants that nobody counts the uncounted ones' part.
type MeanPriors struct {
	First, SecondStep, LaterStep stats.Normal
	// SeasonSD and PlantingSD are of the logarithm of the effects' standard deviations, that of plantings with that of
	// beds.
	SeasonSD, PlantingSD stats.Normal
	Uncounted            stats.Normal
	// BothSD is of the logarithm t of the standard deviation of plants' effects and single seasons' together, Ratio of
	// the logarithm c of the one's ratio to the other's (see stats.LogSDOfBoth), and Size of how an age's log size
	// departs from that of all ages.
	BothSD, Ratio, Size stats.Normal
}

// LivesPriors are what common practice says of how plants last, as logits: a first season, a later one, and how alike
// the plants of a planting fare in a season.
type LivesPriors struct {
	First, Later, Alike stats.Normal
}

// Lives gives them.
func Lives() LivesPriors {
	return LivesPriors{First: firstSeasonLasts, Later: laterSeasonLasts, Alike: likenessPrior}
}

// Practice gives them.
func Practice() MeanPriors {
	return MeanPriors{
		First: firstSeasonPrior, SecondStep: secondStepPrior, LaterStep: laterStepPrior,
		SeasonSD: seasonSDPrior, PlantingSD: groundSDPrior, Uncounted: offsetPrior, BothSD: bothSDPrior, Ratio: ratioPrior, Size: sizePrior,
	}
}
