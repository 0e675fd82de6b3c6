// A bed as it is typed: its name, its measures in the farm's unit, and its lines.

import type { Bed, Farm, LengthUnit, Millimetres } from '../crop/nouns'
import { lastLineUsed } from '../crop/edits'
import { wholeNumber } from '../ui/TotalEditor'

/** Texts of the fields; '' is not known. */
export interface BedForm {
  readonly name: string
  readonly length: string
  readonly width: string
  readonly lines: string
}

/** What a bed's form lacks; the fields that are told are fit otherwise. */
export type BedProblem = 'name' | 'length' | 'width' | 'lines' | 'lines_used'

export const mostLines = 50
const mostMetres = 1_000
const millimetresPerFoot = 304.8

/** In metres or feet, at least a whole millimetre; 0 where nothing is typed, undefined where it is no measure. */
export function readMeasure(text: string, unit: LengthUnit): Millimetres | undefined {
  const typed = text.trim().replace(',', '.')
  if (typed === '') return 0 as Millimetres
  if (!/^(\d{1,4}(\.\d*)?|\.\d+)$/.test(typed)) return undefined
  const mm = Math.round(Number(typed) * (unit === 'in' ? millimetresPerFoot : 1_000))
  return mm >= 1 && mm <= mostMetres * 1_000 ? (mm as Millimetres) : undefined
}

/** A measure as it is typed: at most two decimals. */
export function writeMeasure(length: Millimetres, unit: LengthUnit): string {
  if (length === 0) return ''
  return String(Math.round((100 * length) / (unit === 'in' ? millimetresPerFoot : 1_000)) / 100)
}

export function formOf(bed: Bed, unit: LengthUnit): BedForm {
  return { name: bed.name, length: writeMeasure(bed.length, unit), width: writeMeasure(bed.width, unit), lines: bed.lines === 0 ? '' : String(bed.lines) }
}

/** The bed as its form tells it. A measure that was not touched stays to the millimetre. */
export function readBedForm(form: BedForm, before: Bed, farm: Farm): { readonly bed: Bed; readonly problems: readonly BedProblem[] } {
  const measure = (field: 'length' | 'width') =>
    (form[field] === writeMeasure(before[field], farm.unit) ? before[field] : readMeasure(form[field], farm.unit))
  const [length, width] = [measure('length'), measure('width')]
  const lines = form.lines.trim() === '' ? 0 : wholeNumber(form.lines, mostLines)
  const problems: BedProblem[] = []
  if (form.name.trim() === '') problems.push('name')
  if (length === undefined) problems.push('length')
  if (width === undefined) problems.push('width')
  if (lines === undefined) problems.push('lines')
  else if (lines > 0 && lines < lastLineUsed(farm, before.id)) problems.push('lines_used')
  const bed = { ...before, name: form.name.trim(), length: length ?? before.length, width: width ?? before.width, lines: lines ?? before.lines }
  return { bed, problems }
}

/** Whether another bed is called so. */
export function isNamed(farm: Farm, { id, name }: Pick<Bed, 'id' | 'name'>): boolean {
  const asked = name.trim().toLocaleLowerCase()
  return [...farm.beds.values()].some((bed) => bed.id !== id && bed.name.trim().toLocaleLowerCase() === asked)
}

/** The first number that no bed of the farm is called by, with a word before it. */
export function freeName(farm: Farm, named: (n: number) => string): string {
  let n = farm.beds.size + 1
  while ([...farm.beds.values()].some(({ name }) => name === named(n))) n++
  return named(n)
}
