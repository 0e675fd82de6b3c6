package tables

import (
	"strings"

	"corymb/internal/crop"
)

// ahead lays out what was asked for, weather, tasks and what is meant to become of plants.
func (b *book) ahead() {
	a := b.f.Ahead
	b.table("asks|consultas", "taken|tomada", "buyer|comprador", "buyer_id|comprador_id", "stems|tallos", "colours|colores", "colours_id|colores_id", "grade|grado", "least_length_mm|largo_minimo_mm", "from|desde", "due|para",
		"answer|respuesta", "offered|ofrecidos", "chance_per_mille|probabilidad_por_mil", "price_a_stem|precio_por_tallo", "person|persona", "person_id|persona_id", "order_id|pedido_id", "note|nota", "id")
	sorted(a.Asks, func(_ crop.AskID, k crop.Ask) {
		b.add(text(k.Taken), b.buyer(k.Buyer), whole(k.Stems), b.colourList(k.Colours), text(k.Grade), told(k.Length), text(k.From), text(k.Due),
			text(k.Answer), whole(k.Offered), told(k.Chance), hundredths(k.Price), b.person(k.Person), text(k.Order), text(k.Note), text(k.ID))
	})
	b.table("weather|clima", "date|fecha", "tmin", "tmax", "wrong|mal")
	day := func(wrong bool) func(crop.Date, crop.Weather) {
		return func(_ crop.Date, w crop.Weather) { b.add(text(w.Date), decimal(w.Min), decimal(w.Max), yes(wrong)) }
	}
	sorted(a.Weather, day(false))
	sorted(a.WeatherWrong, day(true))

	b.table("tasks|tareas", "kind|clase", "bed|cama", "bed_id|cama_id", "due|para", "what|que", "done|hecha", "person|persona", "person_id|persona_id", "dropped|dejada", "id")
	sorted(a.Tasks, func(_ crop.TaskID, t crop.Task) {
		b.add(text(t.Kind), b.bed(t.Bed), text(t.Due), text(t.What), text(t.Done), b.person(t.Person), yes(t.Dropped), text(t.ID))
	})
	b.table("intents|propositos", "season|temporada", "plant|planta", "plant_id|planta_id", "do|hacer", "into|en", "why|por_que", "made|decidido", "done|hecho", "person|persona", "person_id|persona_id",
		"stems|tallos", "stems_low|tallos_bajo", "stems_high|tallos_alto", "value|valor", "value_low|valor_bajo", "value_high|valor_alto", "id")
	sorted(a.Intents, func(_ crop.IntentID, i crop.Intent) {
		b.add(whole(i.Season), b.plant(i.Plant), text(i.Do), told(i.Into), text(strings.Join(i.Why, ", ")), text(i.Made), text(i.Done), b.person(i.Person),
			whole(i.Stems.Mean), whole(i.Stems.Lo), whole(i.Stems.Hi), hundredths(i.Value.Mean), hundredths(i.Value.Lo), hundredths(i.Value.Hi), text(i.ID))
	})
	b.table("division-plans|planes-de-division", "season|temporada", "goal_percent|meta_porcentaje", "seasons|temporadas", "places|lugares", "minutes|minutos", "chance_per_mille|probabilidad_por_mil", "made|hecho", "net|neto")
	sorted(a.Plans, func(_ crop.Season, p crop.Plan) {
		b.add(whole(p.Season), whole(p.Goal), whole(p.Seasons), whole(p.Places), whole(p.Minutes), told(p.Chance), text(p.Made), hundredths(p.Net))
	})
}

// money lays out the farm's books.
func (b *book) money() {
	m := b.f.Money
	b.table("costs|costos", "date|fecha", "kind|clase", "what|que", "amount|importe", "fixed|fijo", "bed|cama", "bed_id|cama_id", "stock|material", "stock_id|material_id", "channel|canal", "channel_id|canal_id", "id")
	sorted(m.Costs, func(_ crop.CostID, c crop.Cost) {
		b.add(text(c.Date), text(c.Kind), text(c.What), hundredths(c.Cents), yes(c.Fixed), b.bed(c.Bed), b.stock(c.Stock), b.channel(c.Channel), text(c.ID))
	})
	b.table("work|trabajo", "date|fecha", "kind|clase", "minutes|minutos", "person|persona", "person_id|persona_id", "bed|cama", "bed_id|cama_id", "channel|canal", "channel_id|canal_id", "note|nota", "id")
	sorted(m.Work, func(_ crop.WorkID, w crop.Work) {
		b.add(text(w.Date), text(w.Kind), whole(w.Minutes), b.person(w.Person), b.bed(w.Bed), b.channel(w.Channel), text(w.Note), text(w.ID))
	})
	b.table("payments|pagos", "date|fecha", "invoice|factura", "invoice_id|factura_id", "order_id|pedido_id", "amount|importe", "note|nota", "id")
	sorted(m.Payments, func(_ crop.PaymentID, p crop.Payment) {
		b.add(text(p.Date), text(b.f.Sales.Invoices[p.Invoice].Number), text(p.Invoice), text(p.Order), hundredths(p.Cents), text(p.Note), text(p.ID))
	})
	b.table("statements|liquidaciones", "channel|canal", "channel_id|canal_id", "from|desde", "to|hasta", "paid|pagada", "total", "note|nota", "id")
	sorted(m.Statements, func(_ crop.StatementID, s crop.Statement) {
		b.add(b.channel(s.Channel), text(s.From), text(s.To), text(s.Paid), hundredths(s.Cents), text(s.Note), text(s.ID))
	})
	b.table("statement-rows|liquidaciones-filas", "statement_id|liquidacion_id", "row|fila", "date|fecha", "words|palabras", "bunches|manojos", "amount|importe", "kept|retenido", "line_id|renglon_id", "due|para", "settled|aceptada", "id")
	sorted(m.Rows, func(_ crop.RowID, r crop.StatementRow) {
		b.add(text(r.Statement), whole(r.Place), text(r.Date), text(r.Words), whole(r.Bunches), hundredths(r.Cents), hundredths(r.Kept), text(r.Line), text(r.Due), yes(r.Settled), text(r.ID))
	})
}
