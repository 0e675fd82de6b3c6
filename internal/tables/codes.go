package tables

import "corymb/internal/crop"

// inSpanish are the words that stand in place of codes in the Spanish tables, as the app has them; the English tables have the
// codes, which are English words. The app and package sheets read both of what they take in: grades and flushes.
var inSpanish = map[any]string{
	crop.GradeExtra: "extra", crop.GradeFirst: "primera", crop.GradeSecond: "segunda", crop.GradeOut: "descarte",

	crop.FlushSpring: "primavera", crop.FlushFall: "otoño",

	crop.OriginSeed: "de semilla", crop.OriginPlug: "de plántula", crop.OriginDivision: "de división", crop.OriginBought: "comprada",
	crop.OriginSelfSown: "nacida sola",

	crop.PurposeCut: "corte", crop.PurposeStanding: "en pie", crop.PurposeNothingHere: "nada aquí", crop.PurposeBedCut: "corte de la cama",
	crop.PurposeBench: "total de mesa",

	crop.StageOpening: "abriendo", crop.StageFull: "en plena flor", crop.StageFading: "pasando",

	crop.LightShade: "sombra abierta", crop.LightOvercast: "nublado", crop.LightSun: "sol", crop.LightIndoors: "bajo techo",

	crop.CostPlants: "plantas y semilla", crop.CostSoil: "suelo y abono", crop.CostWater: "agua", crop.CostHealth: "sanidad de las plantas",
	crop.CostSupplies: "insumos", crop.CostTransport: "transporte", crop.CostSelling: "venta", crop.CostWages: "jornales",
	crop.CostTools: "herramientas", crop.CostGround: "tierra y seguros", crop.CostOther: "otros",

	crop.WorkCut: "cortar", crop.WorkBunch: "hacer manojos", crop.WorkPack: "armar pedidos", crop.WorkDeliver: "repartir",
	crop.WorkSell: "vender", crop.WorkPlant: "plantar", crop.WorkDivide: "dividir", crop.WorkWeed: "desyerbar",
	crop.WorkSupport: "malla o acorralar", crop.WorkCutBack: "podar para rebrote", crop.WorkOffice: "oficina", crop.WorkOther: "otra cosa",

	crop.ChannelWholesale: "mayorista", crop.ChannelCoOp: "cooperativa", crop.ChannelRetail: "manojos al público",
	crop.ChannelBouquet: "arreglos", crop.ChannelEvent: "eventos", crop.ChannelDried: "secas",

	crop.ShrinkWilted: "marchitos", crop.ShrinkBroken: "rotos", crop.ShrinkDiseased: "enfermos", crop.ShrinkOpen: "muy abiertos",
	crop.ShrinkOld: "demasiado viejos", crop.ShrinkGiven: "regalados", crop.ShrinkMissing: "no están", crop.ShrinkOther: "otro motivo",

	crop.ClaimShattered: "deshojados", crop.ClaimWilted: "marchitos", crop.ClaimColour: "otro color", crop.ClaimShort: "muy cortos",
	crop.ClaimMissing: "faltaron", crop.ClaimDiseased: "enfermos", crop.ClaimUnsold: "sin vender", crop.ClaimOther: "otra cosa",

	crop.TaskCorral: "poner malla o acorralar", crop.TaskFirstLook: "primera mirada", crop.TaskHeavyWeek: "semana más fuerte",
	crop.TaskCutBack: "podar para rebrote", crop.TaskDeadhead: "quitar flores antes de la semilla", crop.TaskDivide: "dividir",
	crop.TaskLabelMothers: "marcar plantas madre", crop.TaskOrderPlugs: "pedir plantines", crop.TaskStandWalk: "revisar las plantas",
	crop.TaskOwn: "tarea propia",

	crop.DoKeep: "dejar", crop.DoDivide: "dividir", crop.DoLift: "sacar", crop.DoReplace: "reemplazar",

	crop.AskPromised: "prometido", crop.AskDeclined: "rechazado", crop.AskWentElsewhere: "compró en otra parte",

	eventKind("corralled"): "acorralada", eventKind("netted"): "con malla", eventKind("deadheaded"): "sin flores pasadas",
	eventKind("watered"): "regada", eventKind("fed"): "abonada", eventKind("sprayed"): "fumigada", eventKind("cut_back"): "podada", eventKind("other"): "otra cosa",
}

// eventKind is what was done to a bed.
type eventKind string
