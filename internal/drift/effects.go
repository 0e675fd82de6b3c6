package drift

import (
	"fmt"

	"corymb/internal/crop"
)

// effectKind is one of the causes that readings of different plants share.
type effectKind int

const (
	ofSession effectKind = iota
	ofCamera
	ofCard
	ofStage
	ofLight
	ofSeason
)

// ways holds a number for each direction that a cause may move a plant in: L*, a*, b*, the plant's own chroma and hue,
// and chroma in proportion to its own, as a hot season pales reds and leaves whites as they are.
type ways [directions]float64

const directions = 6

// effect is what one cause does to a colour: numbers along some of a plant's directions.
type effect struct {
	kind  effectKind
	key   string
	at    int // of its first column
	along []int
	sd    []float64 // prior standard deviations; nil for a session with a card, whose are estimated
}

var (
	alongLab = []int{0, 1, 2}
	alongOwn = []int{0, 3, 4}
	alongAll = []int{0, 1, 2, 3, 4, 5}
)

// The prior standard deviations of causes, in CIELAB units; wide, and of no source.
const (
	cameraSD   = 4  // of a camera, after the card
	cardSD     = 2  // of a print batch, after it was characterised
	bareSD     = 15 // of a session without a card
	stageSD    = 5  // of opening or fading against full bloom, along a plant's lightness, chroma and hue
	seasonSD   = 8  // of the stand in a season: anything
	paleSD     = 2  // of that shift along each plant's chroma and hue, and in proportion to chroma (so much at 20), beyond L*, a*, b*
	lightSD    = 5  // of sun and of indoors against open shade
	overcastSD = 1.5
	untoldSD   = 3 // of light or stage that nobody told
)

func alike(sd float64, n int) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = sd
	}
	return list
}

// effects gives each cause of a stand its columns, in the order in which they are first met.
type effects struct {
	list    []effect
	at      map[string]int
	columns int
	kindAt  []effectKind // by column
}

func (e *effects) of(kind effectKind, key string, along []int, sd []float64) int {
	name := effectName(kind, key)
	if i, known := e.at[name]; known {
		return i
	}
	if e.at == nil {
		e.at = map[string]int{}
	}
	e.at[name] = len(e.list)
	e.list = append(e.list, effect{kind: kind, key: key, at: e.columns, along: along, sd: sd})
	e.columns += len(along)
	for range along {
		e.kindAt = append(e.kindAt, kind)
	}
	return len(e.list) - 1
}

func effectName(kind effectKind, key string) string { return fmt.Sprint(int(kind), "|", key) }

// causes lists the effects that a reading bears.
func (e *effects) causes(r Reading, reference bool) []int {
	session := alike(bareSD, 3)
	if r.Card != "" {
		session = nil
	}
	list := []int{
		e.of(ofSession, sessionKey(r), alongLab, session),
		e.of(ofCamera, r.Camera, alongLab, alike(cameraSD, 3)),
	}
	if r.Card != "" {
		list = append(list, e.of(ofCard, r.Card, alongLab, alike(cardSD, 3)))
	}
	switch r.Stage {
	case crop.StageFull:
	case crop.StageOpening, crop.StageFading:
		list = append(list, e.of(ofStage, string(r.Stage), alongOwn, alike(stageSD, 3)))
	default:
		list = append(list, e.of(ofStage, "", alongOwn, alike(untoldSD, 3)))
	}
	switch r.Light {
	case crop.LightShade:
	case crop.LightOvercast:
		list = append(list, e.of(ofLight, string(r.Light), alongLab, alike(overcastSD, 3)))
	case crop.LightSun, crop.LightIndoors:
		list = append(list, e.of(ofLight, string(r.Light), alongLab, alike(lightSD, 3)))
	default:
		list = append(list, e.of(ofLight, "", alongLab, alike(untoldSD, 3)))
	}
	if !reference {
		list = append(list, e.of(ofSeason, seasonKey(r.Season), alongAll, []float64{seasonSD, seasonSD, seasonSD, paleSD, paleSD, paleSD}))
	}
	return list
}

// sessionKey tells sessions apart: a camera's day, and what it photographed with a card from what without.
func sessionKey(r Reading) string {
	return fmt.Sprintf("%s|%s|%t", r.Date, r.Camera, r.Card != "")
}

func seasonKey(s crop.Season) string { return fmt.Sprint(int(s)) }
