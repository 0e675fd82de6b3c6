package selling

import "corymb/internal/crop"

// ChannelKeeps is what a channel keeps of the price of one bunch: its hundredths of a percent, rounded to the whole
// cent, half a cent up. It is rounded once a bunch and never a sum, so that what a plan says of its bunches and what an
// order says of the same ones is the same amount. Mirrored by channelKeeps in webapp/src/crop/commission.ts.
func ChannelKeeps(price crop.Cents, commission int) crop.Cents {
	const whole = 10_000 // hundredths of a percent
	return (price*crop.Cents(commission) + whole/2) / whole
}
