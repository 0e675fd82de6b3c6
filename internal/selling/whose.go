package selling

import "corymb/internal/crop"

// LineOf is a line by its id, also that of a standing order on one of its days; false where nobody orders it any more.
func LineOf(s crop.Sales, id crop.LineID) (crop.Line, bool) {
	if line, known := s.Lines[id]; known {
		return line, true
	}
	template, _, standing := OfStanding(id)
	line, known := s.Lines[template]
	if !standing || !known {
		return crop.Line{}, false
	}
	line.ID = id
	return line, true
}

// OrderOf is the order that a line stands in, also one of a standing order on its day; false where it is gone.
func OrderOf(s crop.Sales, id crop.LineID) (crop.OrderID, bool) { return orderOf(s, id) }

// OnceOrderOf is the order that a line stands in or stood in before it, or its order, was withdrawn: what an invoice charges
// for it, and what was paid for it, stays. False where nobody ever told of the line.
func OnceOrderOf(s crop.Sales, id crop.LineID) (crop.OrderID, bool) {
	if line, known := onceLine(s, id); known {
		return line.Order, line.Order != ""
	}
	template, day, ok := OfStanding(id)
	line, known := onceLine(s, template)
	return crop.OrderID(string(line.Standing) + "@" + string(day)), ok && known && line.Standing != ""
}

func onceLine(s crop.Sales, id crop.LineID) (crop.Line, bool) {
	if line, known := s.Lines[id]; known {
		return line, true
	}
	line, known := s.Gone.Lines[id]
	return line, known
}

// ChannelOf is the channel of a buyer, also of a deleted one; false where there is none.
func ChannelOf(s crop.Sales, buyer crop.BuyerID) (crop.Channel, bool) {
	id := buyerOf(s, buyer).Channel
	if channel, known := s.Channels[id]; known {
		return channel, true
	}
	channel, known := s.Gone.Channels[id]
	return channel, known
}

// Stands tells whether an invoice counts: it was not called void, and of a note, neither was its invoice.
func Stands(s crop.Sales, i crop.Invoice) bool { return stands(s, i) }
