package tags

// howTo is the page that is printed with a batch's cards, in one language.
type howTo struct {
	title  string
	steps  []howToStep
	beside string // below the picture of a card beside a head
	apart  string // below that of a card that is elsewhere
}

// howToStep is one thing to do, or to leave.
type howToStep struct{ head, text string }

var cardWords = map[string]howTo{
	"en": {
		title: "Colour card",
		steps: []howToStep{
			{"Print", "On matte white paper without optical brighteners: its maker says so, often as “OBA free”. Heavy paper, 160 g/m² or more, " +
				"stays flat in the hand. Choose matte paper and the best quality, leave colour management on (the colours are sRGB), and turn off " +
				"whatever makes pictures livelier. At 100 %, the actual size: never “fit to page”."},
			{"Measure the scale", "From 0 to 80 it measures 80 mm. If yours does not, print again, or tell the app what it measures."},
			{"Let it dry, then cut", "Colours change while ink dries: wait a day, in the dark. Cut along the lines. Never laminate a card or put " +
				"anything glossy over it: glare hides the colour."},
			{"Before its first use", "Once for each batch, find the colours it really has: Shed, Colour cards. Photograph a card close beside one " +
				"of a measured batch, or beside a grey patch of known colour, or type measured values. Until then all that is measured with it is rough."},
			{"Hold it", "Close beside the head and in its plane: as far from the phone as the head is, both facing it. Both in the same light, best " +
				"in open shade or under an even grey sky, with no shadow of hand or leaf. Fingers off the squares and the code."},
			{"Keep it", "Dry and dark, in an envelope. Print a new batch each season, and at once when a card is faded, stained, wet or creased."},
			{"Take care", "Cut stems are sharp, and the sap of some plants makes skin blister in the sun: wear gloves. Local rules, and what is said " +
				"of your crop, come first."},
		},
		beside: "So: beside the head, in its plane",
		apart:  "Not so: nearer, farther or slanted",
	},
	"es": {
		title: "Tarjeta de color",
		steps: []howToStep{
			{"Imprimir", "En papel blanco mate sin blanqueadores ópticos: el fabricante lo dice, a menudo como «sin OBA». El papel grueso, de 160 g/m² " +
				"o más, queda plano en la mano. Elija papel mate y la mejor calidad, deje activada la gestión del color (los colores son sRGB) y " +
				"desactive lo que hace más vivas las fotos. Al 100 %, en tamaño real: nunca «ajustar a la página»."},
			{"Medir la escala", "De 0 a 80 mide 80 mm. Si la suya no, imprima otra vez o dígale a la aplicación cuánto mide."},
			{"Dejar secar y cortar", "Los colores cambian mientras la tinta se seca: espere un día, en la oscuridad. Corte por las líneas. Nunca " +
				"plastifique una tarjeta ni le ponga nada brillante encima: el reflejo tapa el color."},
			{"Antes de usarla", "Una vez por cada tanda, averigüe qué colores tiene de verdad: Galpón, Tarjetas de color. Fotografíe una tarjeta " +
				"junto a otra de una tanda medida, o junto a un parche gris de color conocido, o escriba valores medidos. Hasta entonces, todo lo que " +
				"se mide con ella es aproximado."},
			{"Sostenerla", "Al lado de la flor, muy cerca y en su plano: tan lejos del teléfono como ella, las dos de frente. Las dos con la misma " +
				"luz, mejor a la sombra abierta o con cielo gris parejo, sin sombra de la mano ni de hojas. Los dedos, fuera de los cuadros y del código."},
			{"Guardarla", "Seca y a oscuras, en un sobre. Imprima una tanda nueva cada temporada, y enseguida si una tarjeta está desteñida, manchada, " +
				"mojada o arrugada."},
			{"Cuidado", "Los tallos cortados son filosos, y la savia de algunas plantas ampolla la piel al sol: use guantes. Las reglas del lugar, y " +
				"lo que se dice de su cultivo, van primero."},
		},
		beside: "Así: al lado de la flor, en su plano",
		apart:  "Así no: más cerca, más lejos o inclinada",
	},
}
