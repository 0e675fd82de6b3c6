// What a tray would fill, drawn and said before it is planted.

import { t } from '../messages/messages'
import type { Millimetres } from '../crop/nouns'
import { reachOf } from '../crop/reach'
import { useNotebook } from '../ui/notebook'
import { inUnit, lengthMeasured } from '../ui/lengths'
import { BedDrawing } from './BedDrawing'
import type { TrayPlan } from './tray'

export function TrayPreview({ plan }: { readonly plan: TrayPlan }) {
  const { unit } = useNotebook().farm.value
  const { places, passed, bed, standing } = plan
  return (
    <section class="card">
      <h2>{bed.name === '' ? t('tray.preview') : bed.name}</h2>
      <BedDrawing bed={bed} standing={standing} filled={places} unit={unit} />
      <div class="small" role="status">
        {places.length > 0 && <p>{filledText(plan)}</p>}
        {passed > 0 && <p>{t('tray.passed', { n: passed })}</p>}
        {places.length > 0 && bed.length > 0 && <p>{apartText(plan, unit)}</p>}
      </div>
    </section>
  )
}

function filledText({ places }: TrayPlan): string {
  const lines = places.map(({ line }) => line)
  const numbers = places.map(({ number }) => number)
  const [from, to] = [Math.min(...lines), Math.max(...lines)]
  if (places.length === 1) return t('tray.fills.one', { line: from, number: numbers[0] ?? 1 })
  const told = { n: places.length, first: Math.min(...numbers), last: Math.max(...numbers) }
  return from === to ? t('tray.fills.line', { ...told, line: from }) : t('tray.fills', { ...told, from, to })
}

/** How far plants then stand apart, spread evenly over the length. */
function apartText({ bed, places, standing }: TrayPlan, unit: 'cm' | 'in'): string {
  const along = reachOf([...places, ...standing].map(({ number }) => number), bed.length)
  const apart = inUnit((bed.length / along) as Millimetres, unit)
  return t(unit === 'in' ? 'tray.apart.in' : 'tray.apart.cm', { length: lengthMeasured(bed.length, unit), n: apart })
}
