package tables

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// lotHeadings are those of lot.
var lotHeadings = []string{"bed|cama", "bed_id|cama_id", "cut|corte", "colour|color", "colour_id|color_id", "grade|grado", "length_from_mm|largo_desde_mm", "length_to_mm|largo_hasta_mm"}

func (b *book) lot(l crop.LotID) []Cell {
	return slices.Concat(b.bed(l.Bed), []Cell{text(l.Cut)}, b.colour(l.Colour), []Cell{text(l.Grade)}, class(l.Length))
}

// cooler lays out what lies in the cooler, and what was written off.
func (b *book) cooler(day crop.Date) {
	b.table("cooler|camara-fria", append(slices.Clone(lotHeadings), "came|entraron", "packed|armados", "written_off|de_baja", "left|quedan", "days_left|dias_que_quedan")...)
	for _, lot := range selling.Cooler(b.f, day) {
		b.add(b.lot(lot.ID), whole(lot.Came), whole(lot.Packed), whole(lot.Shrink), whole(lot.Left()), whole(lot.DaysLeft))
	}
	b.table("written-off|dado-de-baja", append([]string{"date|fecha", "stems|tallos", "reason|motivo", "what|que", "person|persona", "person_id|persona_id", "id"}, lotHeadings...)...)
	sorted(b.f.Sales.Shrink, func(_ crop.ShrinkID, s crop.Shrink) {
		b.add(text(s.Date), whole(s.Stems), text(s.Reason), text(s.What), b.person(s.Person), text(s.ID), b.lot(s.Lot))
	})
}

// buyers lays out channels, buyers, rules of bunches and prices.
func (b *book) buyers() {
	s := b.f.Sales
	b.table("channels|canales", "name|nombre", "kind|clase", "commission_percent|comision_porcentaje", "fee|cargo", "buyer_pays_fee|comprador_paga_cargo",
		"cutoff_days|cierre_dias", "cutoff_time|cierre_hora", "weekdays|dias_de_semana", "deleted|borrado", "id")
	channel := func(gone bool) func(crop.ChannelID, crop.Channel) {
		return func(_ crop.ChannelID, c crop.Channel) {
			b.add(text(c.Name), text(c.Kind), hundredths(c.Commission), hundredths(c.Fee), yes(c.BuyerPays), whole(c.CutoffDays), text(c.CutoffTime), text(c.Days), yes(gone), text(c.ID))
		}
	}
	sorted(s.Channels, channel(false))
	sorted(s.Gone.Channels, channel(true))
	b.table("channels-floors|canales-minimos", "channel|canal", "channel_id|canal_id", "grade|grado", "least_a_stem|minimo_por_tallo")
	floors := func(_ crop.ChannelID, c crop.Channel) {
		sorted(c.Floor, func(g crop.Grade, least crop.Cents) { b.add(text(c.Name), text(c.ID), text(g), hundredths(least)) })
	}
	sorted(s.Channels, floors)
	sorted(s.Gone.Channels, floors)

	b.table("buyers|compradores", "name|nombre", "channel|canal", "channel_id|canal_id", "address|direccion", "phone|telefono", "email|correo", "note|nota", "deleted|borrado", "id")
	buyer := func(gone bool) func(crop.BuyerID, crop.Buyer) {
		return func(_ crop.BuyerID, one crop.Buyer) {
			b.add(text(one.Name), b.channel(one.Channel), text(one.Address), text(one.Phone), text(one.Email), text(one.Note), yes(gone), text(one.ID))
		}
	}
	sorted(s.Buyers, buyer(false))
	sorted(s.Gone.Buyers, buyer(true))
	b.table("buyers-accept|compradores-aceptan", "buyer|comprador", "buyer_id|comprador_id", "in_place_of|en_lugar_de", "in_place_of_id|en_lugar_de_id", "accepts|acepta", "accepts_id|acepta_id")
	accepts := func(_ crop.BuyerID, one crop.Buyer) {
		sorted(one.Accepts, func(asked crop.ColourID, others []crop.ColourID) {
			for _, other := range others {
				b.add(text(one.Name), text(one.ID), b.colour(asked), b.colour(other))
			}
		})
	}
	sorted(s.Buyers, accepts)
	sorted(s.Gone.Buyers, accepts)

	b.table("bunches|manojos", "name|nombre", "stems|tallos", "grade|grado", "least_length_mm|largo_minimo_mm", "id")
	sorted(s.Bunches, func(_ crop.BunchID, r crop.Bunch) {
		b.add(text(r.Name), whole(r.Stems), text(r.Grade), told(r.Length), text(r.ID))
	})
	b.table("prices|precios", "from|desde", "channel|canal", "channel_id|canal_id", "buyer|comprador", "buyer_id|comprador_id", "colour|color", "colour_id|color_id", "bunch|manojo", "bunch_id|manojo_id", "price_a_bunch|precio_por_manojo", "id")
	sorted(s.Prices, func(_ crop.PriceID, p crop.Price) {
		b.add(text(p.From), b.channel(p.Channel), b.buyer(p.Buyer), b.colour(p.Colour), b.bunch(p.Bunch), hundredths(p.Cents), text(p.ID))
	})
}

// orders lays out what is asked for and what was packed for it.
func (b *book) orders() {
	s := b.f.Sales
	b.table("orders|pedidos", "due|para", "buyer|comprador", "buyer_id|comprador_id", "taken|tomado", "note|nota", "deleted|borrado", "id")
	order := func(gone bool) func(crop.OrderID, crop.Order) {
		return func(_ crop.OrderID, o crop.Order) {
			b.add(text(o.Due), b.buyer(o.Buyer), text(o.Taken), text(o.Note), yes(gone), text(o.ID))
		}
	}
	sorted(s.Orders, order(false))
	sorted(s.Gone.Orders, order(true))
	b.table("standing-orders|pedidos-fijos", "buyer|comprador", "buyer_id|comprador_id", "from|desde", "until|hasta", "weekdays|dias_de_semana", "every_weeks|cada_semanas", "skips|saltos", "note|nota", "id")
	sorted(s.Standings, func(_ crop.StandingID, o crop.StandingOrder) {
		b.add(b.buyer(o.Buyer), text(o.From), text(o.Until), text(o.Days), whole(o.Every), list(o.Skips), text(o.Note), text(o.ID))
	})
	b.table("lines|renglones", "due|para", "buyer|comprador", "buyer_id|comprador_id", "bunch|manojo", "bunch_id|manojo_id", "bunches|manojos", "stems_a_bunch|tallos_por_manojo",
		"grade|grado", "least_length_mm|largo_minimo_mm", "colours|colores", "colours_id|colores_id", "whole|entero", "exact|exacto", "price_a_bunch|precio_por_manojo", "order_id|pedido_id", "standing_order_id|pedido_fijo_id", "deleted|borrado", "id")
	line := func(gone bool) func(crop.LineID, crop.Line) {
		return func(_ crop.LineID, l crop.Line) {
			of, known := s.Orders[l.Order]
			if !known {
				of = s.Gone.Orders[l.Order]
			}
			buyer := of.Buyer
			if l.Standing != "" {
				buyer = s.Standings[l.Standing].Buyer
			}
			b.add(text(of.Due), b.buyer(buyer), b.bunch(l.Bunch), whole(l.Bunches), whole(l.Stems),
				text(l.Grade), told(l.Length), b.colourList(l.Colours), yes(l.Whole), yes(l.Exact), hundredths(l.Price), text(l.Order), text(l.Standing), yes(gone), text(l.ID))
		}
	}
	sorted(s.Lines, line(false))
	sorted(s.Gone.Lines, line(true))
	b.table("packed|armado", "date|fecha", "due|para", "buyer|comprador", "buyer_id|comprador_id", "bunches|manojos", "stems|tallos", "person|persona", "person_id|persona_id", "line_id|renglon_id", "id")
	sorted(s.Packed, func(_ crop.PackedID, p crop.Packed) {
		stems := 0
		for _, n := range p.Stems {
			stems += n
		}
		b.add(text(p.Date), text(p.Due), b.buyer(p.Buyer), whole(p.Bunches), whole(stems), b.person(p.Person), text(p.Line), text(p.ID))
	})
	b.table("packed-stems|tallos-armados", append([]string{"packed_id|armado_id", "stems|tallos"}, lotHeadings...)...)
	sorted(s.Packed, func(_ crop.PackedID, p crop.Packed) {
		for _, lot := range lotsInOrder(p.Stems) {
			b.add(text(p.ID), whole(p.Stems[lot]), b.lot(lot))
		}
	})
	b.table("claims|reclamos", append([]string{"date|fecha", "due|para", "buyer|comprador", "buyer_id|comprador_id", "stems|tallos", "reason|motivo", "came_back|volvieron", "credit|credito", "what|que", "person|persona", "person_id|persona_id", "line_id|renglon_id", "id"}, lotHeadings...)...)
	sorted(s.Claims, func(_ crop.ClaimID, c crop.Claim) {
		of := make([]Cell, len(lotHeadings))
		if c.Lot != nil {
			of = b.lot(*c.Lot)
		}
		b.add(text(c.Date), text(c.Due), b.buyer(c.Buyer), whole(c.Stems), text(c.Reason), yes(c.Back), hundredths(c.Credit), text(c.What), b.person(c.Person), text(c.Line), text(c.ID), of)
	})
}

func lotsInOrder(stems map[crop.LotID]int) []crop.LotID {
	return slices.SortedFunc(maps.Keys(stems), func(a, b crop.LotID) int {
		return cmp.Or(cmp.Compare(a.Cut, b.Cut), cmp.Compare(a.Bed, b.Bed), cmp.Compare(a.Colour, b.Colour), cmp.Compare(a.Grade, b.Grade),
			cmp.Compare(a.Length.Lo, b.Length.Lo), cmp.Compare(a.Length.Hi, b.Length.Hi))
	})
}

// bills lays out invoices and credit notes.
func (b *book) bills() {
	s := b.f.Sales
	b.table("invoices|facturas", "number|numero", "date|fecha", "pay_by|pagar_hasta", "buyer|comprador", "buyer_id|comprador_id", "currency|moneda", "tax_percent|impuesto_porcentaje", "rows_total|total_de_renglones",
		"void|anulada", "credits_invoice_id|acredita_factura_id", "claim_id|reclamo_id", "tax_taken_back|impuesto_devuelto", "buyer_name|nombre_en_el_papel", "address|direccion", "seller|vendedor", "tax_name|impuesto", "id")
	sorted(s.Invoices, func(_ crop.InvoiceID, i crop.Invoice) {
		total := crop.Cents(0)
		for _, l := range i.Lines {
			total += l.Cents
		}
		tax, head := Cell{}, crop.InvoiceHead{}
		if i.Tax != nil {
			tax = hundredths(*i.Tax)
		}
		if i.Head != nil {
			head = *i.Head
		}
		b.add(text(i.Number), text(i.Date), text(i.PayBy), b.buyer(i.Buyer), text(i.Currency), hundredths(i.TaxRate), hundredths(total), text(i.Void), text(i.Credits), text(i.Claim), tax,
			text(head.BuyerName), text(head.Address), text(head.Seller), text(head.TaxName), text(i.ID))
	})
	b.table("invoice-rows|facturas-renglones", "number|numero", "row|fila", "due|para", "bunches|manojos", "stems_a_bunch|tallos_por_manojo", "amount|importe", "words|palabras", "line_id|renglon_id", "invoice_id|factura_id")
	sorted(s.Invoices, func(_ crop.InvoiceID, i crop.Invoice) {
		for at, l := range i.Lines {
			b.add(text(i.Number), whole(at+1), text(l.Due), whole(l.Bunches), whole(l.Stems), hundredths(l.Cents), text(l.Words), text(l.Line), text(i.ID))
		}
	})
}
