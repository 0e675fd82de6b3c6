// The numbers of the counting plan: by age, by bed and by colour class.

import type { Plant } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { inHundred } from './ages_sentence'
import { type AgePlan, colourShares, type Stratum } from './plan'
import { restsOn, shownAssurance, shownHalf } from './plan_sentence'
import { planSettings } from './plan_settings'
import { assuranceOf, type PlanTable } from './plan_table'

export function AgesPlanned({ table, ages }: { readonly table: PlanTable; readonly ages: readonly AgePlan[] }) {
  const { assurance, stems } = planSettings.value
  const notes = ages.map(({ age, expected }) => restsOn(age, expected.from)).filter((note) => note !== '')
  return (
    <section>
      <table>
        <thead>
          <tr>
            <th scope="col">{t('ages.age')}</th><th scope="col">{t('plan.standing')}</th><th scope="col">{t('plan.planned')}</th>
            <th scope="col">{t('plan.half', { hundred: inHundred(assurance) })}</th>
            <th scope="col">{t('plan.chance', { half: stems })}</th>
          </tr>
        </thead>
        <tbody>
          {ages.map(({ age, standing, planned, half, expected }) => (
            <tr key={age}>
              <td>{count(age)}</td><td>{count(standing)}</td><td>{count(planned)}</td>
              <td><b>{Number.isFinite(half) ? t('plan.within', { half: shownHalf(half) }) : t('plan.untold')}</b></td>
              <td>{shownAssurance(assuranceOf(table, expected.half, planned, standing, stems))}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {notes.map((note) => <p class="small" key={note}>{note}</p>)}
      <p class="small">{t('plan.meaning', { hundred: inHundred(assurance), level: inHundred(table.level) })}</p>
    </section>
  )
}

export function BedsPlanned({ strata, added }: { readonly strata: readonly Stratum[]; readonly added: readonly number[] }) {
  const farm = useNotebook().farm.value
  return (
    <section>
      <h2>{t('plan.beds')}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{t('plan.bed')}</th><th scope="col">{t('ages.age')}</th><th scope="col">{t('plan.standing')}</th>
            <th scope="col">{t('plan.counted')}</th><th scope="col">{t('plan.added')}</th>
          </tr>
        </thead>
        <tbody>
          {strata.map(({ planting, age, counted, uncounted }, i) => (
            <tr key={planting.id}>
              <td><a class="bed-link" href={href('beds', 'bed', planting.bed)}>{farm.beds.get(planting.bed)?.name ?? ''}</a></td>
              <td>{count(age)}</td><td>{count(counted.length + uncounted.length)}</td><td>{count(counted.length)}</td>
              <td><b>{count(added[i]!)}</b></td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

export function ColoursPlanned({ strata, drawn }: { readonly strata: readonly Stratum[]; readonly drawn: readonly (readonly Plant[])[] }) {
  const farm = useNotebook().farm.value
  return (
    <section>
      <h2>{t('plan.colours')}</h2>
      <p class="small">{t('plan.colours.why')}</p>
      <table>
        <thead>
          <tr><th scope="col">{t('plan.colour')}</th><th scope="col">{t('plan.standing')}</th><th scope="col">{t('plan.planned')}</th></tr>
        </thead>
        <tbody>
          {colourShares(strata, drawn).map(({ colour, standing, counted }) => (
            <tr key={colour}>
              <td>{colour === '' ? t('colour.unknown') : farm.colours.get(colour)?.name ?? t('colour.unknown')}</td>
              <td>{count(standing)}</td><td><b>{count(counted)}</b></td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
