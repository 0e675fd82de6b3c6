package crop

// Weather is what one day was like at a farm.
type Weather struct {
	Date     Date
	Min, Max float64 // the lowest and the highest temperature, all of a farm in the same degrees; Min is not above Max
}

// WeatherGap is a stretch of days of which no weather is known.
type WeatherGap struct {
	First, Last Date
}

// WeatherGaps finds the days that are missing between the first and the last of some days, which are in order.
func WeatherGaps(days []Weather) []WeatherGap {
	var gaps []WeatherGap
	for i := 1; i < len(days); i++ {
		before, after := days[i-1].Date, days[i].Date
		if before.DaysTo(after) > 1 {
			gaps = append(gaps, WeatherGap{First: before.Add(1), Last: after.Add(-1)})
		}
	}
	return gaps
}
