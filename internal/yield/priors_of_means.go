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
}

// Practice gives them.
func Practice() MeanPriors {
	return MeanPriors{
		First: firstSeasonPrior, SecondStep: secondStepPrior, LaterStep: laterStepPrior,
		SeasonSD: seasonSDPrior, PlantingSD: groundSDPrior, Uncounted: offsetPrior,
	}
}
