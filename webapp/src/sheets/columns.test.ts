import { describe, expect, it } from 'vitest'
import { columnsOf, guessMatch, missing, plain, rematched, type SheetKind, sheetKinds, toRemember } from './columns'

const named = (kind: SheetKind, headings: readonly string[], remembered = {}) =>
  Object.fromEntries(Object.entries(guessMatch(kind, headings, remembered)).map(([key, at]) => [key, headings[at]]))

describe('headings are recognised', () => {
  it.each([
    ['plants', ['Plant', 'Stock', 'Bed', 'Planted', 'Colour'], { plant: 'Plant', stock: 'Stock', bed: 'Bed', planted: 'Planted', colour: 'Colour' }],
    ['plants', ['Código', 'Variedad', 'Cama', 'Fecha de plantación'], { plant: 'Código', stock: 'Variedad', bed: 'Cama', planted: 'Fecha de plantación' }],
    ['cuts', ['Fecha', 'Planta', 'Tallos', 'Largo (cm)', 'Grado'], { date: 'Fecha', plant: 'Planta', stems: 'Tallos', length_cm: 'Largo (cm)', grade: 'Grado' }],
    ['sales', ['date', 'Customer', 'Qty', 'stems per bunch', 'Price'], { date: 'date', buyer: 'Customer', bunches: 'Qty', stems_a_bunch: 'stems per bunch', price: 'Price' }],
    ['weather', ['Día', 'Mínima', 'Máxima'], { date: 'Día', tmin: 'Mínima', tmax: 'Máxima' }],
    ['weather', ['DATE', 'Max temp', 'MIN'], { date: 'DATE', tmin: 'MIN', tmax: 'Max temp' }],
    ['weather', ['DATE', 'hottest', 'MIN'], { date: 'DATE', tmin: 'MIN' }],
  ] as const)('%s: %j', (kind, headings, want) => expect(named(kind, headings)).toEqual(want))

  it('takes the word that says it best, whatever the order', () => {
    expect(named('sales', ['name', 'due', 'buyer', 'date'])).toEqual({ buyer: 'buyer', date: 'date' })
  })

  it('of the tables that the shed writes, in both languages', () => {
    expect(missing('plants', guessMatch('plants', ['planta', 'material', 'material_id', 'cama', 'cama_id', 'plantado', 'primera_temporada']))).toEqual([])
    expect(missing('cuts', guessMatch('cuts', ['date', 'plant', 'plant_id', 'bed', 'bed_id', 'colour', 'colour_id', 'grade', 'length_from_mm', 'length_to_mm', 'stems', 'visit_id']))).toEqual([])
    expect(missing('sales', guessMatch('sales', ['para', 'comprador', 'comprador_id', 'manojo', 'manojo_id', 'manojos', 'tallos_por_manojo', 'precio_por_manojo']))).toEqual([])
    expect(missing('weather', guessMatch('weather', ['fecha', 'tmin', 'tmax', 'mal']))).toEqual([])
  })
})

describe('a choice of columns', () => {
  it('moves a column, and no two columns have one place', () => {
    expect(rematched({ plant: 0, bed: 1 }, 'stock', 1)).toEqual({ plant: 0, stock: 1 })
    expect(rematched({ plant: 0, bed: 1 }, 'plant', undefined)).toEqual({ bed: 1 })
  })

  it('is remembered by heading, also that one is not read', () => {
    const headings = ['plant', 'sort', 'bed', 'planted', 'Farbe']
    const chosen = rematched(rematched(guessMatch('plants', headings), 'stock', 1), 'bed', undefined)
    const remembered = toRemember('plants', headings, chosen)
    expect(remembered).toEqual({ sort: 'stock', bed: '' })
    expect(guessMatch('plants', ['bed', 'SORT', 'plant'], remembered)).toEqual({ stock: 1, plant: 2 })
  })

  it('that another kind remembered does no harm', () => {
    expect(guessMatch('weather', ['date', 'x'], { x: 'buyer' })).toEqual({ date: 0 })
  })
})

it.each(sheetKinds)('%s: no two columns are guessed from one word', (kind) => {
  const words = columnsOf[kind].flatMap(({ key }) => [key, ...Object.keys(guessMatch(kind, [key]))].slice(1))
  expect(words).toEqual(columnsOf[kind].map(({ key }) => key))
})

it.each([['  Fecha de Plantación ', 'fecha_de_plantacion'], ['Length (cm)', 'length_cm'], ['—', '']])('%j is compared as %j', (heading, want) => {
  expect(plain(heading)).toBe(want)
})
