// Which columns each kind of spreadsheet may have, and which heading of a file is which.

export type SheetKind = 'plants' | 'cuts' | 'sales' | 'weather'

export const sheetKinds: readonly SheetKind[] = ['plants', 'cuts', 'sales', 'weather']

export interface SheetColumn {
  readonly key: ColumnKey
  readonly required: boolean
}

export type ColumnKey = keyof typeof headingsOf

/** What people call each column, in English and Spanish, as `plain` leaves it; the first is our own word for it. */
const headingsOf = {
  plant: ['plant', 'code', 'tag', 'plant_code', 'planta', 'codigo', 'etiqueta'],
  stock: ['stock', 'variety', 'cultivar', 'material', 'variedad', 'mix'],
  species: ['species', 'crop', 'especie', 'cultivo'],
  bed: ['bed', 'row', 'block', 'plot', 'cama', 'cantero', 'bancal', 'parcela'],
  planted: ['planted', 'date_planted', 'planting_date', 'plantado', 'plantada', 'fecha_de_plantacion', 'fecha_de_siembra'],
  first_season: ['first_season', 'primera_temporada'],
  line: ['line', 'row_in_bed', 'hilera', 'linea'],
  number: ['number', 'position', 'place', 'numero', 'posicion', 'lugar'],
  counted_from: ['counted_from', 'contada_desde'],
  counted_to: ['counted_to', 'contada_hasta'],
  removed: ['removed', 'dead', 'died', 'arrancada', 'muerta', 'baja'],
  colour: ['colour', 'color', 'colours', 'colors', 'colour_class', 'colores', 'clase_de_color'],
  parent: ['parent', 'mother', 'madre'],
  date: ['date', 'day', 'due', 'fecha', 'dia', 'para', 'delivery', 'entrega', 'cut', 'corte'],
  stems: ['stems', 'count', 'stem_count', 'tallos', 'cantidad'],
  grade: ['grade', 'quality', 'grado', 'calidad'],
  length_cm: ['length_cm', 'length', 'cm', 'stem_length', 'largo_cm', 'largo', 'longitud'],
  length_mm: ['length_mm', 'length_from_mm', 'least_length_mm', 'largo_mm', 'largo_desde_mm', 'largo_minimo_mm'],
  flush: ['flush', 'floracion', 'oleada'],
  person: ['person', 'grader', 'who', 'cutter', 'persona', 'quien', 'clasificador'],
  buyer: ['buyer', 'customer', 'client', 'name', 'comprador', 'cliente', 'nombre'],
  channel: ['channel', 'market', 'outlet', 'canal', 'mercado'],
  bunches: ['bunches', 'bunch', 'quantity', 'qty', 'manojos', 'ramos', 'atados'],
  stems_a_bunch: ['stems_a_bunch', 'stems_per_bunch', 'bunch_size', 'tallos_por_manojo', 'tallos_por_ramo'],
  price: ['price', 'price_a_bunch', 'price_per_bunch', 'bunch_price', 'unit_price', 'precio', 'precio_por_manojo', 'precio_por_ramo'],
  price_a_stem: ['price_a_stem', 'price_per_stem', 'stem_price', 'precio_por_tallo'],
  paid: ['paid', 'payment', 'paid_on', 'pagado', 'pago', 'pagada'],
  note: ['note', 'notes', 'remark', 'nota', 'notas', 'observaciones'],
  tmin: ['tmin', 'min', 'low', 'minimum', 'min_temp', 'temp_min', 'minima', 'temperatura_minima'],
  tmax: ['tmax', 'max', 'high', 'maximum', 'max_temp', 'temp_max', 'maxima', 'temperatura_maxima'],
} as const

function of(required: readonly ColumnKey[], others: readonly ColumnKey[]): readonly SheetColumn[] {
  return [...required.map((key) => ({ key, required: true })), ...others.map((key) => ({ key, required: false }))]
}

export const columnsOf: Readonly<Record<SheetKind, readonly SheetColumn[]>> = {
  plants: of(['plant', 'stock', 'bed', 'planted'], ['species', 'first_season', 'line', 'number', 'colour', 'removed', 'parent', 'counted_from', 'counted_to']),
  cuts: of(['date', 'stems'], ['plant', 'bed', 'grade', 'length_cm', 'length_mm', 'colour', 'flush', 'person']),
  sales: of(['date', 'bunches', 'stems_a_bunch'], ['buyer', 'channel', 'colour', 'grade', 'length_cm', 'length_mm', 'price', 'price_a_stem', 'paid', 'note']),
  weather: of(['date', 'tmin', 'tmax'], []),
}

/** In which place of the file each column stands; one that is not there is left out. */
export type Match = Readonly<Partial<Record<ColumnKey, number>>>

/** Which column somebody chose for a heading (`plain`) before; '' for none. */
export type Remembered = Readonly<Record<string, ColumnKey | ''>>

/** A heading without case, accents and signs. */
export function plain(heading: string): string {
  return heading.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '_').replace(/^_|_$/g, '')
}

/** What is remembered of a heading goes before what its words say; of headings alike the first is taken. */
export function guessMatch(kind: SheetKind, headings: readonly string[], remembered: Remembered = {}): Match {
  const match: Partial<Record<ColumnKey, number>> = {}
  const taken = new Set<number>()
  const take = (key: ColumnKey, at: number) => {
    if (at < 0 || taken.has(at) || match[key] !== undefined) return
    match[key] = at
    taken.add(at)
  }
  const plains = headings.map(plain)
  const known = new Set<string>(columnsOf[kind].map(({ key }) => key))
  plains.forEach((heading, at) => {
    const chosen = heading === '' || !Object.hasOwn(remembered, heading) ? undefined : remembered[heading]
    if (chosen === '') taken.add(at)
    else if (chosen !== undefined && known.has(chosen)) take(chosen, at)
  })
  // Words that say more exactly which column it is come first, whichever column they are of.
  const most = Math.max(...columnsOf[kind].map(({ key }) => headingsOf[key].length))
  for (let rank = 0; rank < most; rank++) {
    for (const { key } of columnsOf[kind]) {
      const word: string | undefined = headingsOf[key][rank]
      if (word !== undefined) take(key, plains.findIndex((heading, at) => heading === word && !taken.has(at)))
    }
  }
  return match
}

/** A column put in another place of the file, which no other column then has. */
export function rematched(match: Match, key: ColumnKey, place: number | undefined): Match {
  const kept = Object.entries(match).filter(([other, at]) => other !== key && at !== place)
  return Object.fromEntries([...kept, ...(place === undefined ? [] : [[key, place]])]) as Match
}

/** What of a match is worth remembering: for each heading which column it was taken for. */
export function toRemember(kind: SheetKind, headings: readonly string[], match: Match): Remembered {
  const usual = guessMatch(kind, headings)
  const chosen: Record<string, ColumnKey | ''> = {}
  headings.forEach((heading, at) => {
    const keyIn = (one: Match) => columnsOf[kind].find(({ key }) => one[key] === at)?.key ?? ''
    if (plain(heading) !== '' && keyIn(match) !== keyIn(usual)) chosen[plain(heading)] = keyIn(match)
  })
  return chosen
}

/** Which required columns no place was found for. */
export function missing(kind: SheetKind, match: Match): ColumnKey[] {
  return columnsOf[kind].filter(({ key, required }) => required && match[key] === undefined).map(({ key }) => key)
}
