// Spanish as farm crews of Latin America speak it.

import type { en } from './en'
import { esAges } from './es_ages'
import { esAhead } from './es_ahead'
import { esAvailability } from './es_availability'
import { esBackup } from './es_backup'
import { esBeds } from './es_beds'
import { esBenchRow } from './es_bench_row'
import { esBooks } from './es_books'
import { esCards } from './es_cards'
import { esColour } from './es_colour'
import { esCooler } from './es_cooler'
import { esCuts } from './es_cuts'
import { esDivision } from './es_division'
import { esEvents } from './es_events'
import { esFiles } from './es_files'
import { esFirstWalk } from './es_first_walk'
import { esHelp } from './es_help'
import { esHistory } from './es_history'
import { esJoin } from './es_join'
import { esKeys } from './es_keys'
import { esLineage } from './es_lineage'
import { esMarks } from './es_marks'
import { esMeasuring } from './es_measuring'
import { esMoney } from './es_money'
import { esOrders } from './es_orders'
import { esPacking } from './es_packing'
import { esPapers } from './es_papers'
import { esPhotos } from './es_photos'
import { esPicture } from './es_picture'
import { esPlan } from './es_plan'
import { esPlantColour } from './es_plant_colour'
import { esPlanting } from './es_planting'
import { esPromise } from './es_promise'
import { esRepeats } from './es_repeats'
import { esRow } from './es_row'
import { esScan } from './es_scan'
import { esSeason } from './es_season'
import { esShed } from './es_shed'
import { esShedDay } from './es_shed_day'
import { esSheet } from './es_sheet'
import { esStart } from './es_start'
import { esTags } from './es_tags'
import { esWalk } from './es_walk'
import { esWork } from './es_work'
import { esWorth } from './es_worth'
import type { Translation } from './message'

const esApp = {
  'title': '{place} · Corymb',
  'places': 'Lugares',
  'place.row': 'Surco',
  'place.shed': 'Galpón',
  'place.beds': 'Camas',
  'place.ahead': 'Por venir',
  'back': 'Atrás',
  'cancel': 'Cancelar',
  'undo': 'Deshacer',
  'try_again': 'Probar de nuevo',
  'yes': 'sí',
  'no': 'no',
  'never': 'nunca',
  'loading': 'Un momento…',
  'loading.failed': 'Esta página todavía no está en el teléfono y no hay conexión. Lo que anotó está a salvo. Ábrala de nuevo cuando el galpón esté al alcance.',
  'made_up': 'Finca inventada: nada de esto se cultivó nunca.',
  'ready': 'Listo para el campo: funciona sin señal',
  'update': 'Hay un Corymb más nuevo. Nada de lo anotado cambia.',
  'update.take': 'Usarlo ya',
  'storage.line.closed': 'Nada más puede guardarse: el navegador cerró el almacenamiento de este aparato. Recargue la página.',
  'storage.line.lost': 'El navegador vació el almacenamiento de este aparato. Vea qué hacer.',
  'storage.line.nearly_full': 'El almacenamiento de este aparato está casi lleno.',
  'storage.line.not_persistent': 'Sin enviar: el navegador puede borrarlo.',

  'day.today': 'hoy',
  'day.unknown': 'día desconocido',
  'season': 'temporada {year}',
  'season.age': '{age}.ª temporada',
  'season.in_ground': '{age}.ª temporada en tierra',
  'season.before': 'aún antes de su primera temporada',
  'place': 'línea {line}, {number}',
  'place.unknown': 'lugar desconocido',
  'colour.unknown': 'color aún no visto',
  'bed.unknown': 'cama desconocida',
  'stock.unknown': 'material desconocido',
  'by': 'por {name}',
  'plants': { one: '{n} planta', other: '{n} plantas' },
  'stems': { one: '{n} tallo', other: '{n} tallos' },
  'stems.word': { one: 'tallo', other: 'tallos' },
  'stems.head': 'Tallos',
  'counted': 'contada',
  'counted.on': '{code} se cuenta.',
  'counted.off': '{code} ya no se cuenta.',
  'cell.ungraded': 'sin clasificar',

  'grade.extra': 'extra',
  'grade.first': 'primera',
  'grade.second': 'segunda',
  'grade.out': 'descarte',
  'grade.untold': 'sin grado',
  'flush.spring': 'primavera',
  'flush.fall': 'otoño',
  'origin.seed': 'de semilla',
  'origin.plug': 'de plántula',
  'origin.division': 'de división',
  'origin.bought': 'comprada',
  'origin.self_sown': 'nacida sola',
  'purpose.cut': 'corte',
  'purpose.standing': 'en pie',
  'purpose.nothing': 'nada aquí',
  'purpose.bed_cut': 'corte de la cama',
  'purpose.bench': 'total de mesa',

  'length.any': 'cualquiera',
  'length.any.spoken': 'largo sin indicar',
  'length.cm': '{lo} cm',
  'length.in': '{lo} pulg',
  'length.cm.open': '{lo}+ cm',
  'length.in.open': '{lo}+ pulg',
  'length.cm.spoken': 'de {lo} a {hi} centímetros',
  'length.in.spoken': 'de {lo} a {hi} pulgadas',
  'length.cm.over': '{lo} centímetros o más',
  'length.in.over': '{lo} pulgadas o más',
  'length.m': '{n} m',
  'length.ft': '{n} pies',
  'grid.name': 'Tallos por grado y largo',
  'grid.cell': { one: '{grade}, {length}, {n} tallo, {adds}', other: '{grade}, {length}, {n} tallos, {adds}' },
  'grid.adds': { one: 'sumar {n}', other: 'sumar {n}' },
  'grid.adds.stem': 'sumar uno',

  'total.of': 'Número correcto de tallos: {name}',
  'total.save': 'Guardar el número',
  'total.saved': '{name} quedó en {n}',
  'total.problem': 'Escriba un número entero de 0 a {most}. El número anterior queda hasta que guarde otro.',

  'failure.most': 'No se contó: la cuenta de una planta no puede pasar de {most}. El número que se ve está guardado. Si es correcto, avise en el galpón; uno mayor casi siempre es un error del dedo.',
  'failure.changed': 'No se quitó: esta cuenta se cambió después. El número que se ve está guardado. Corríjalo en la planta, en Camas.',
  'failure.full': 'No se guardó: la memoria de este teléfono está llena. Todos los números que ve están a salvo. Libere espacio y toque de nuevo.',
  'failure.closed': 'No se guardó: esta página perdió su cuaderno, quizá por otra pestaña. Todos los números que vio están a salvo. Recargue la página y toque de nuevo.',
  'failure.invalid': 'No se guardó: el teléfono no pudo anotarlo. Todos los números que ve están a salvo. Toque de nuevo; si pasa dos veces, recargue la página.',

  'person.other': 'Otro nombre',
  'person.name': 'Su nombre',
  'person.add': 'Agregar este nombre',

  'empty': 'Aún no hay camas ni plantas.',
  'empty.import': 'Vienen de dos hojas de cálculo, que se cargan en la computadora del galpón:',
  'empty.import.when': 'Hágalo mientras Corymb no está sirviendo y arránquelo de nuevo. Los teléfonos reciben la finca solos.',

  'opening': 'Abriendo el cuaderno…',
  'fetching': 'Trayendo la finca desde el galpón…',
  'fetching.progress': '{done} de {total} cambios leídos.',
  'problem.no_storage': 'Este navegador no guarda nada',
  'problem.no_storage.what': 'Corymb no puede guardar nada en esta ventana. Puede ser una ventana privada, o el almacenamiento puede estar apagado.',
  'problem.no_storage.safe': 'Aquí no se contó nada, así que nada se perdió.',
  'problem.no_storage.do': 'Abra esta dirección en una ventana normal, o permita que este sitio guarde datos, y pruebe de nuevo.',
  'problem.no_storage.button': 'Probar de nuevo',
  'problem.other_tab': 'Corymb está abierto en otra pestaña',
  'problem.other_tab.what': 'Solo una pestaña puede escribir en el cuaderno a la vez, para que ningún toque cuente doble.',
  'problem.other_tab.safe': 'Todo lo contado en la otra pestaña está a salvo.',
  'problem.other_tab.do': 'Siga en la otra pestaña, o use esta: la otra entonces se detiene.',
  'problem.other_tab.button': 'Usar esta pestaña',
  'problem.taken_over': 'Corymb pasó a otra pestaña',
  'problem.taken_over.what': 'Otra pestaña de este teléfono tomó el cuaderno.',
  'problem.taken_over.safe': 'Cada número que vio aquí está guardado.',
  'problem.taken_over.do': 'Siga en la otra pestaña, o traiga el cuaderno de vuelta a esta.',
  'problem.taken_over.button': 'Usar esta pestaña',
  'problem.newer_format': 'Un Corymb más nuevo escribió aquí',
  'problem.newer_format.what': 'Esta página es más vieja que el cuaderno de este teléfono y no puede leerlo.',
  'problem.newer_format.safe': 'Todo lo del cuaderno está a salvo; no se tocó.',
  'problem.newer_format.do': 'Recargue para obtener la página nueva. Si sigue igual, conéctese al galpón y recargue otra vez.',
  'problem.newer_format.button': 'Recargar',
  'problem.no_farm': 'Todavía no hay finca en este teléfono',
  'problem.no_farm.what': 'Este teléfono nunca estuvo al alcance del galpón, y ahora no puede alcanzarlo.',
  'problem.no_farm.safe': 'Aquí no se contó nada, así que nada se perdió.',
  'problem.no_farm.do': 'Conéctese a la red del galpón, donde corre Corymb, y pruebe de nuevo. Después el teléfono funciona sin señal.',
  'problem.no_farm.button': 'Probar de nuevo',
  'problem.full': 'La memoria de este teléfono está llena',
  'problem.full.what': 'Corymb no puede abrir su cuaderno: no queda espacio en este teléfono.',
  'problem.full.safe': 'Todo lo contado aquí sigue guardado.',
  'problem.full.do': 'Libere espacio, unas fotos o vídeos, y pruebe de nuevo. No borre los datos de este sitio: los recuentos están en ellos.',
  'problem.full.button': 'Probar de nuevo',
  'problem.emptied': 'El navegador vació la memoria de este teléfono',
  'problem.emptied.what': 'Este teléfono guardaba la finca, pero el navegador la borró aquí, y ahora no puede alcanzar el galpón.',
  'problem.emptied.safe': 'Lo que había llegado al galpón está seguro allí. Los números que no se habían enviado se perdieron, salvo que los haya guardado en un archivo.',
  'problem.emptied.do': 'Conéctese a la red del galpón y pruebe de nuevo: la finca vuelve entonces. Un archivo guardado se lee en el galpón.',
  'problem.emptied.button': 'Probar de nuevo',
} as const

export const es: Translation<typeof en> = { ...esApp, ...esAges, ...esRow, ...esShed, ...esBackup, ...esBeds, ...esJoin, ...esPhotos, ...esPlan, ...esScan, ...esTags, ...esMarks, ...esEvents, ...esBenchRow, ...esRepeats, ...esHistory, ...esSheet, ...esShedDay, ...esWalk, ...esKeys, ...esPlantColour, ...esPlanting, ...esLineage, ...esPicture, ...esMeasuring, ...esCards, ...esColour, ...esPapers, ...esAvailability, ...esOrders, ...esCooler, ...esCuts, ...esPacking, ...esAhead, ...esPromise, ...esDivision, ...esSeason, ...esWork, ...esMoney, ...esFiles, ...esStart, ...esFirstWalk, ...esHelp, ...esBooks, ...esWorth }
