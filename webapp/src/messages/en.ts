// English. Words between double asterisks carry the sentence's weight; {n} chooses the plural.

import { enAges } from './en_ages'
import { enAhead } from './en_ahead'
import { enAvailability } from './en_availability'
import { enBackup } from './en_backup'
import { enBeds } from './en_beds'
import { enBenchRow } from './en_bench_row'
import { enBooks } from './en_books'
import { enCards } from './en_cards'
import { enColour } from './en_colour'
import { enCooler } from './en_cooler'
import { enCuts } from './en_cuts'
import { enDivision } from './en_division'
import { enEvents } from './en_events'
import { enFiles } from './en_files'
import { enFirstWalk } from './en_first_walk'
import { enHelp } from './en_help'
import { enHistory } from './en_history'
import { enJoin } from './en_join'
import { enKeys } from './en_keys'
import { enLineage } from './en_lineage'
import { enMarks } from './en_marks'
import { enMeasuring } from './en_measuring'
import { enMoney } from './en_money'
import { enOrders } from './en_orders'
import { enPacking } from './en_packing'
import { enPapers } from './en_papers'
import { enPhotos } from './en_photos'
import { enPicture } from './en_picture'
import { enPlan } from './en_plan'
import { enPlantColour } from './en_plant_colour'
import { enPlanting } from './en_planting'
import { enPromise } from './en_promise'
import { enRepeats } from './en_repeats'
import { enRow } from './en_row'
import { enScan } from './en_scan'
import { enSeason } from './en_season'
import { enShed } from './en_shed'
import { enShedDay } from './en_shed_day'
import { enSheet } from './en_sheet'
import { enStart } from './en_start'
import { enTags } from './en_tags'
import { enWalk } from './en_walk'
import { enWork } from './en_work'
import { enWorth } from './en_worth'

const enApp = {
  'title': '{place} · Corymb',
  'places': 'Places',
  'place.row': 'Row',
  'place.shed': 'Shed',
  'place.beds': 'Beds',
  'place.ahead': 'Ahead',
  'back': 'Back',
  'cancel': 'Cancel',
  'undo': 'Undo',
  'try_again': 'Try again',
  'yes': 'yes',
  'no': 'no',
  'never': 'never',
  'loading': 'One moment…',
  'loading.failed': 'This page is not on the phone yet and there is no connection. What you recorded is safe. Open it again where the shed is in reach.',
  'made_up': 'Made-up farm: nothing here was ever grown.',
  'ready': 'Ready for the field: works with no signal',
  'update': 'A newer Corymb is ready. Nothing you recorded changes.',
  'update.take': 'Use it now',
  'storage.line.closed': 'Nothing more can be stored: the browser closed this device’s storage. Reload the page.',
  'storage.line.lost': 'The browser emptied this device’s storage. See what to do.',
  'storage.line.nearly_full': 'This device’s storage is nearly full.',
  'storage.line.not_persistent': 'Unsent, and the browser may delete it.',

  'day.today': 'today',
  'day.unknown': 'day unknown',
  'season': 'season {year}',
  'season.age': 'season {age}',
  'season.in_ground': 'season {age} in the ground',
  'season.before': 'not yet in its first season',
  'place': 'line {line}, {number}',
  'place.unknown': 'place unknown',
  'colour.unknown': 'colour not seen yet',
  'bed.unknown': 'bed unknown',
  'stock.unknown': 'stock unknown',
  'by': 'by {name}',
  'plants': { one: '{n} plant', other: '{n} plants' },
  'stems': { one: '{n} stem', other: '{n} stems' },
  'stems.word': { one: 'stem', other: 'stems' },
  'stems.head': 'Stems',
  'counted': 'counted',
  'counted.on': '{code} is counted.',
  'counted.off': '{code} is no longer counted.',
  'cell.ungraded': 'not graded',

  'grade.extra': 'extra',
  'grade.first': 'first',
  'grade.second': 'second',
  'grade.out': 'out',
  'grade.untold': 'grade not told',
  'flush.spring': 'spring',
  'flush.fall': 'fall',
  'origin.seed': 'from seed',
  'origin.plug': 'from plugs',
  'origin.division': 'from division',
  'origin.bought': 'bought',
  'origin.self_sown': 'self-sown',
  'purpose.cut': 'cut',
  'purpose.standing': 'standing',
  'purpose.nothing': 'nothing here',
  'purpose.bed_cut': 'bed cut',
  'purpose.bench': 'bench total',

  'length.any': 'any',
  'length.any.spoken': 'length not told',
  'length.cm': '{lo} cm',
  'length.in': '{lo} in',
  'length.cm.open': '{lo}+ cm',
  'length.in.open': '{lo}+ in',
  'length.cm.spoken': '{lo} to {hi} centimetres',
  'length.in.spoken': '{lo} to {hi} inches',
  'length.cm.over': '{lo} centimetres and longer',
  'length.in.over': '{lo} inches and longer',
  'length.m': '{n} m',
  'length.ft': '{n} ft',
  'grid.name': 'Stems by grade and length',
  'grid.cell': { one: '{grade}, {length}, {n} stem, {adds}', other: '{grade}, {length}, {n} stems, {adds}' },
  'grid.adds': { one: 'add {n}', other: 'add {n}' },
  'grid.adds.stem': 'add one',

  'total.of': 'Right number of stems: {name}',
  'total.save': 'Save the number',
  'total.saved': '{name} is now {n}',
  'total.problem': 'Write a whole number from 0 to {most}. The old number stands until you save another.',

  'failure.most': 'Not counted: one plant’s count cannot pass {most}. The number shown is stored. If it is right, tell the shed; a larger one is nearly always a slip.',
  'failure.changed': 'Not taken back: this count was changed since. The number shown is stored. Correct it at the plant, under Beds.',
  'failure.full': 'Not stored: this phone’s storage is full. Every number you see is safe. Free some space, then tap again.',
  'failure.closed': 'Not stored: this page has lost its notebook, perhaps to another tab. Every number you saw is safe. Reload the page, then tap again.',
  'failure.invalid': 'Not stored: the phone could not keep this. Every number you see is safe. Tap again; if it happens twice, reload the page.',

  'person.other': 'Another name',
  'person.name': 'Your name',
  'person.add': 'Add this name',

  'empty': 'No bed and no plant yet.',
  'empty.import': 'They come from two spreadsheets, read in on the shed’s computer:',
  'empty.import.when': 'Run it while Corymb is not serving, then start it again. The phones get the farm by themselves.',

  'opening': 'Opening the notebook…',
  'fetching': 'Getting the farm from the shed…',
  'fetching.progress': '{done} of {total} changes read.',
  'problem.no_storage': 'This browser keeps nothing',
  'problem.no_storage.what': 'Corymb cannot store anything in this window. It may be a private window, or storage may be switched off.',
  'problem.no_storage.safe': 'Nothing was counted here, so nothing is lost.',
  'problem.no_storage.do': 'Open this address in an ordinary window, or allow this site to store data, and try again.',
  'problem.no_storage.button': 'Try again',
  'problem.other_tab': 'Corymb is open in another tab',
  'problem.other_tab.what': 'Only one tab may write in the notebook at a time, so that no tap counts twice.',
  'problem.other_tab.safe': 'Everything counted in the other tab is safe.',
  'problem.other_tab.do': 'Go on in the other tab, or use this one: the other then stops.',
  'problem.other_tab.button': 'Use this tab',
  'problem.taken_over': 'Corymb moved to another tab',
  'problem.taken_over.what': 'Another tab of this phone has taken the notebook over.',
  'problem.taken_over.safe': 'Every number you saw here is stored.',
  'problem.taken_over.do': 'Go on in the other tab, or take the notebook back to this one.',
  'problem.taken_over.button': 'Use this tab',
  'problem.newer_format': 'A newer Corymb has written here',
  'problem.newer_format.what': 'This page is older than the notebook on this phone and cannot read it.',
  'problem.newer_format.safe': 'Everything in the notebook is safe; it was not touched.',
  'problem.newer_format.do': 'Reload to get the newer page. If it stays, connect to the shed and reload once more.',
  'problem.newer_format.button': 'Reload',
  'problem.no_farm': 'No farm on this phone yet',
  'problem.no_farm.what': 'This phone has never been in reach of the shed, and it cannot reach it now.',
  'problem.no_farm.safe': 'Nothing was counted here, so nothing is lost.',
  'problem.no_farm.do': 'Connect to the network of the shed, where Corymb runs, and try again. After that the phone works with no signal.',
  'problem.no_farm.button': 'Try again',
  'problem.full': 'This phone’s storage is full',
  'problem.full.what': 'Corymb cannot open its notebook: there is no room left on this phone.',
  'problem.full.safe': 'Everything counted here is still stored.',
  'problem.full.do': 'Free some space, a few photos or films, and try again. Do not clear the data of this site: the counts are in it.',
  'problem.full.button': 'Try again',
  'problem.emptied': 'The browser emptied this phone’s storage',
  'problem.emptied.what': 'This phone kept the farm, but the browser has deleted it here, and the shed cannot be reached now.',
  'problem.emptied.safe': 'What had reached the shed is safe there. Numbers that had not been sent are gone, unless you saved them to a file.',
  'problem.emptied.do': 'Connect to the network of the shed and try again: the farm then comes back. A saved file is read in at the shed.',
  'problem.emptied.button': 'Try again',
} as const

export const en = { ...enApp, ...enAges, ...enRow, ...enShed, ...enBackup, ...enBeds, ...enJoin, ...enPhotos, ...enPlan, ...enScan, ...enTags, ...enMarks, ...enEvents, ...enBenchRow, ...enRepeats, ...enHistory, ...enSheet, ...enShedDay, ...enWalk, ...enKeys, ...enPlantColour, ...enPlanting, ...enLineage, ...enPicture, ...enMeasuring, ...enCards, ...enColour, ...enPapers, ...enAvailability, ...enOrders, ...enCooler, ...enCuts, ...enPacking, ...enAhead, ...enPromise, ...enDivision, ...enSeason, ...enWork, ...enMoney, ...enFiles, ...enStart, ...enFirstWalk, ...enHelp, ...enBooks, ...enWorth } as const
