package report

import "maps"

// pair is a text in both languages; its verbs are those of package fmt, by number where their order differs.
type pair struct{ en, es string }

func (p pair) in(l Language) string {
	if l == Spanish {
		return p.es
	}
	return p.en
}

// words are all texts by key; nouns are in the singular and plural.
var words = joined(wordsOfGrowing, wordsOfSelling, wordsOfRefusals, wordsOfNames, wordsOfReading)

func joined(parts ...map[string]pair) map[string]pair {
	all := map[string]pair{}
	for _, part := range parts {
		maps.Copy(all, part)
	}
	return all
}

var nouns = map[string]pair{
	"plant":        {"plant|plants", "planta|plantas"},
	"plant.season": {"plant and season|plants and seasons", "planta y temporada|plantas y temporadas"},
	"stem":         {"stem|stems", "tallo|tallos"},
	"week":         {"week|weeks", "semana|semanas"},
	"delivery":     {"delivery|deliveries", "entrega|entregas"},
	"ask":          {"ask|asks", "consulta|consultas"},
	"promise":      {"promise|promises", "promesa|promesas"},
	"place":        {"more place|more places", "lugar más|lugares más"},
	"hour":         {"hour|hours", "hora|horas"},
	"season":       {"season|seasons", "temporada|temporadas"},
	"draw":         {"draw|draws", "simulación|simulaciones"},
	"division":     {"division|divisions", "división|divisiones"},
	"invoice":      {"invoice|invoices", "factura|facturas"},
}
