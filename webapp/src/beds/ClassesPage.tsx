// The farm's colour classes: each with its measured colour and limit, or by eye until it has one.

import { limitOf } from '../crop/colour_class'
import type { Colour, Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import './colour.css'
import { classSwatch, labText, tenth } from './colour_words'

export function ClassesPage() {
  const farm = useNotebook().farm.value
  const may = useRights()
  const classes = [...farm.colours.values()].sort((a, b) => a.name.localeCompare(b.name))
  return (
    <>
      <PageHead title={t('classes.title')} back={href('beds', 'colour')} />
      <div class="page reading">
        <p class="small">{t('classes.why')}</p>
        {!may.manage && <p class="small">{t('classes.owner')}</p>}
        {classes.length === 0 && <p class="say">{t('classes.none')}</p>}
        <ul class="rows">{classes.map((one) => <li key={one.id}><ClassLine farm={farm} one={one} /></li>)}</ul>
        {may.manage && <a class="btn tall" href={href('beds', 'classes', 'new')}>{t('classes.new')}</a>}
      </div>
    </>
  )
}

function ClassLine({ farm, one }: { readonly farm: Farm; readonly one: Colour }) {
  return (
    <a class="line" href={href('beds', 'classes', one.id)}>
      <Head swatch={classSwatch(one)} size={40} />
      <span>
        <b>{one.name}</b>
        <span class="small block">{one.lab ? t('classes.measured', { lab: labText(one.lab), limit: tenth(limitOf(one)), from: whence(farm, one) }) : t('classes.by_eye')}</span>
      </span>
    </a>
  )
}

/** Whence a class's colour came, in words. */
export function whence(farm: Farm, { labFrom }: Pick<Colour, 'labFrom'>): string {
  const [kind, ...rest] = labFrom.split('/')
  const id = rest.join('/')
  if (kind === 'plant') return t('classes.from.plant', { code: farm.plants.get(id as never)?.code ?? t('classes.from.gone') })
  if (kind === 'reading') {
    const reading = farm.readings.get(id as never)
    return reading ? t('classes.from.reading', { code: farm.plants.get(reading.plant)?.code ?? t('classes.from.gone') }) : t('classes.from.reading.gone')
  }
  return t('classes.from.hand')
}
