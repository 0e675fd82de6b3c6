package tables

import (
	"maps"
	"slices"
	"strings"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
)

// ground lays out the farm and what stands in it.
func (b *book) ground() {
	f, t, w, c := b.f, b.f.Sales.Terms, b.f.Ahead.Warmth, b.f.Ahead.Costs
	b.table("farm|finca", "id", "name|nombre", "length_unit|unidad_de_largo", "season_start|inicio_de_temporada", "southern|hemisferio_sur",
		"made_up|inventada", "assumed_counted|conteo_supuesto", "currency|moneda", "seller|vendedor", "cooler_days|dias_de_camara", "over_cut_percent|corte_de_mas_porcentaje",
		"pay_days|dias_de_pago", "tax_percent|impuesto_porcentaje", "tax_name|impuesto", "broken_promise_percent|promesa_rota_porcentaje",
		"degrees|grados", "lower_celsius|base_celsius", "upper_celsius|tope_celsius", "degree_day_method|metodo_de_grados_dia",
		"hour_cost|costo_de_hora", "division_minutes|minutos_por_division", "lift_minutes|minutos_por_arranque", "set_minutes|minutos_por_plantin", "plug_cost|costo_de_plantin",
		"place_cost|costo_de_lugar", "standing_worth_percent|valor_en_pie_porcentaje")
	b.add(text(f.ID), text(f.Name), text(f.Unit), text(f.Calendar.Start), yes(f.Calendar.Southern), yes(f.MadeUp), yes(f.AssumedCounted),
		text(t.Currency), text(t.Seller), told(t.CoolerDays), told(t.OverCut), told(t.PayDays), hundredths(t.TaxRate), text(t.TaxName), told(t.BreakCost),
		text(w.Degrees), decimal(w.Lower), decimal(w.Upper), text(w.Method),
		hundredths(c.Hour), whole(c.Divide), whole(c.Lift), whole(c.Set), hundredths(c.Plug), hundredths(c.Ground), whole(c.Standing))

	b.table("people|personas", "name|nombre", "id")
	sorted(f.People, func(_ crop.PersonID, p crop.Person) { b.add(text(p.Name), text(p.ID)) })

	b.table("beds|camas", "name|nombre", "length_mm|largo_mm", "width_mm|ancho_mm", "lines|hileras", "id")
	sorted(f.Beds, func(_ crop.BedID, bed crop.Bed) {
		b.add(text(bed.Name), told(bed.Length), told(bed.Width), told(bed.Lines), text(bed.ID))
	})
	b.table("beds-cut-back|camas-podadas", "bed|cama", "bed_id|cama_id", "season|temporada", "date|fecha")
	sorted(f.Beds, func(_ crop.BedID, bed crop.Bed) {
		sorted(bed.CutBack, func(s crop.Season, d crop.Date) { b.add(b.bed(bed.ID), whole(s), text(d)) })
	})

	b.table("stocks|materiales", "name|nombre", "species|especie", "origin|origen", "protected|protegido", "from|de", "from_id|de_id", "id")
	sorted(f.Stocks, func(_ crop.StockID, s crop.Stock) {
		b.add(text(s.Name), text(s.Species), text(s.Origin), yes(s.Protected), b.stock(s.From), text(s.ID))
	})

	b.table("plantings|siembras", "stock|material", "stock_id|material_id", "bed|cama", "bed_id|cama_id", "planted|plantado", "first_season|primera_temporada", "id")
	sorted(f.Plantings, func(_ crop.PlantingID, p crop.Planting) {
		b.add(b.stock(p.Stock), b.bed(p.Bed), text(p.Planted), whole(p.FirstSeason), text(p.ID))
	})
	b.plants()
}

func (b *book) plants() {
	f := b.f
	b.table("plants|plantas", "plant|planta", "stock|material", "stock_id|material_id", "bed|cama", "bed_id|cama_id", "planted|plantado", "first_season|primera_temporada",
		"removed|arrancada", "colour|color", "colour_id|color_id", "line|hilera", "number|numero", "reference|referencia", "moved_to_bed_id|trasladada_a_cama_id", "planting_id|siembra_id", "id")
	sorted(f.Plants, func(_ crop.PlantID, p crop.Plant) {
		set := f.Plantings[p.Planting]
		b.add(text(p.Code), b.stock(set.Stock), b.bed(f.BedOf(p)), text(set.Planted), told(set.FirstSeason),
			text(p.Removed), b.colour(p.Colour), told(p.Line), told(p.Number), yes(p.Reference), text(p.Bed), text(p.Planting), text(p.ID))
	})
	b.table("plants-counted|plantas-contadas", "plant|planta", "plant_id|planta_id", "season|temporada", "counted_from|contada_desde", "counted_to|contada_hasta")
	sorted(f.Plants, func(_ crop.PlantID, p crop.Plant) {
		sorted(p.Counted, func(s crop.Season, w crop.Window) { b.add(b.plant(p.ID), whole(s), text(w.From), text(w.To)) })
	})
	b.table("plants-parents|plantas-madres", "plant|planta", "plant_id|planta_id", "parent|madre", "parent_id|madre_id")
	sorted(f.Plants, func(_ crop.PlantID, p crop.Plant) {
		for _, parent := range p.Parents {
			b.add(b.plant(p.ID), b.plant(parent))
		}
	})
	b.table("plants-former-beds|plantas-camas-anteriores", "plant|planta", "plant_id|planta_id", "bed|cama", "bed_id|cama_id", "until|hasta")
	sorted(f.Plants, func(_ crop.PlantID, p crop.Plant) {
		for _, stay := range p.Stood {
			b.add(b.plant(p.ID), b.bed(stay.Bed), text(stay.Until))
		}
	})
}

// row lays out what was counted. A visit without a count has a row too: that nothing was there is a finding.
func (b *book) row() {
	f := b.f
	b.table("visits|visitas", "date|fecha", "purpose|motivo", "plant|planta", "plant_id|planta_id", "bed|cama", "bed_id|cama_id", "planting_id|siembra_id", "age|edad",
		"person|persona", "person_id|persona_id", "flush|floracion", "cut_to_order|cortado_a_pedido", "stage|apertura", "stems|tallos", "id")
	sorted(f.Visits, func(_ crop.VisitID, v crop.Visit) {
		b.add(text(v.Date), text(v.Purpose), b.plant(v.Plant), b.bed(v.Bed), text(v.Planting), told(v.Age), b.person(v.Person), text(v.Flush), yes(v.ToOrder), text(v.Stage), whole(v.Stems()), text(v.ID))
	})
	b.table("counts|conteos", "date|fecha", "plant|planta", "plant_id|planta_id", "bed|cama", "bed_id|cama_id", "colour|color", "colour_id|color_id", "grade|grado",
		"length_from_mm|largo_desde_mm", "length_to_mm|largo_hasta_mm", "stems|tallos", "visit_id|visita_id")
	sorted(f.Visits, func(_ crop.VisitID, v crop.Visit) {
		bed := v.Bed
		if v.Plant != "" {
			bed = f.BedOn(f.Plants[v.Plant], v.Date)
		}
		for _, c := range v.Counts {
			b.add(text(v.Date), b.plant(v.Plant), b.bed(bed), b.colour(c.Colour), text(c.Grade), class(c.Length), whole(c.Stems), text(v.ID))
		}
	})
}

// marks lays out what stands at plants beside the nouns, and what was done to beds.
func (b *book) marks(state *changelog.State) {
	b.table("marks|marcas", "plant|planta", "plant_id|planta_id", "kind|clase", "date|fecha", "season|temporada", "person|persona", "person_id|persona_id", "what|que")
	events := map[string]*changelog.Entity{}
	plants := map[string]*changelog.Entity{}
	state.Entities(func(e *changelog.Entity) {
		switch {
		case e.Withdrawn():
		case e.Key.Type == farm.TypePlant:
			plants[e.Key.ID] = e
		case e.Key.Type == farm.TypeEvent:
			events[e.Key.ID] = e
		}
	})
	sorted(plants, func(id string, e *changelog.Entity) { b.marksOf(crop.PlantID(id), e) })
	b.table("events|trabajos-en-camas", "date|fecha", "bed|cama", "bed_id|cama_id", "kind|clase", "person|persona", "person_id|persona_id", "what|que", "until_ms|hasta_ms", "id")
	sorted(events, func(id string, e *changelog.Entity) {
		b.add(text(e.Text(farm.FieldDate)), b.bed(crop.BedID(e.Text(farm.FieldBed))), text(eventKind(e.Text(farm.FieldKind))),
			b.person(crop.PersonID(e.Text(farm.FieldPerson))), text(e.Text(farm.FieldWhat)), told(e.Int(farm.FieldUntil)), text(id))
	})
}

func (b *book) marksOf(id crop.PlantID, e *changelog.Entity) {
	put := func(kind, day, season, person, what string) {
		b.add(b.plant(id), text(kind), text(day), text(season), b.person(crop.PersonID(person)), text(what))
	}
	for _, flag := range slices.Sorted(slices.Values(e.Members(farm.FieldFlags))) {
		kind, rest, _ := strings.Cut(flag, "/")
		day, person, _ := strings.Cut(rest, "/")
		put("flag", day, "", person, kind)
	}
	for _, note := range slices.Sorted(slices.Values(e.Members(farm.FieldNotes))) {
		day, rest, _ := strings.Cut(note, "/")
		person, words, _ := strings.Cut(rest, "/")
		put("note", day, "", person, words)
	}
	for _, photo := range slices.Sorted(slices.Values(e.Members(farm.FieldPhotos))) {
		put("photo", "", "", "", photo)
	}
	for _, field := range slices.Sorted(slices.Values(e.Fields())) {
		for prefix, kind := range map[string]string{farm.FieldStand: "stand", farm.FieldColourIn: "colour"} {
			if season, ok := strings.CutPrefix(field, prefix); ok && e.Text(field) != "" {
				day, found, _ := strings.Cut(e.Text(field), "/")
				put(kind, day, season, "", found)
			}
		}
	}
	if beside := e.Text(farm.FieldBeside); beside != "" {
		put("beside", "", "", "", beside)
	}
}

// colours lays out colour classes, readings and cards.
func (b *book) colours() {
	f := b.f
	b.table("colours|colores", "name|nombre", "swatch|muestra", "lab_l", "lab_a", "lab_b", "limit_ciede2000|limite_ciede2000", "id")
	sorted(f.Colours, func(_ crop.ColourID, c crop.Colour) {
		reference := []Cell{{}, {}, {}}
		if c.Reference != nil {
			reference = lab(*c.Reference)
		}
		limit := Cell{}
		if c.Limit != 0 {
			limit = decimal(c.Limit)
		}
		b.add(text(c.Name), text(c.Swatch), reference, limit, text(c.ID))
	})
	b.table("readings|lecturas", "date|fecha", "plant|planta", "plant_id|planta_id", "person|persona", "person_id|persona_id", "lab_l", "lab_a", "lab_b", "se_l", "se_a", "se_b",
		"spread_mm|ancho_mm", "spread_se_mm|ancho_ee_mm", "stage|apertura", "light|luz", "card|tarjeta", "camera|camara", "photo|foto", "quality|calidad", "problems|problemas", "id")
	sorted(f.Readings, func(_ crop.ReadingID, r crop.Reading) {
		b.add(text(r.Date), b.plant(r.Plant), b.person(r.Person), lab(r.Colour), lab(r.SE), decimal(r.Spread), decimal(r.SpreadSE),
			text(r.Stage), text(r.Light), text(r.Card), text(r.Camera), text(r.Photo), whole(r.Quality), list(r.Problems), text(r.ID))
	})
	b.table("cards|tarjetas-de-color", "id", "printed|impresa", "how|como", "measured|medida", "se|ee", "retired|retirada")
	sorted(f.Cards, func(_ crop.CardID, c crop.Card) {
		b.add(text(c.ID), text(c.Printed), text(c.How), text(c.Measured), decimal(c.SE), text(c.Retired))
	})
	b.table("cards-patches|tarjetas-de-color-campos", "card|tarjeta", "patch|campo", "lab_l", "lab_a", "lab_b")
	for _, id := range slices.Sorted(maps.Keys(f.Cards)) {
		for i, patch := range f.Cards[id].Patches {
			b.add(text(id), whole(i+1), lab(patch))
		}
	}
}
