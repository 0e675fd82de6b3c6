// What one more plant of each age would bring, and the plants of the season side by side.

import { useState } from 'preact/hooks'
import { decimal, t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Marked, Say } from '../ui/Say'
import { ShedFailed } from '../ui/ShedFailed'
import { type Books, queryOf, shelf } from './books'
import { price } from './books_words'
import { SidesTable } from './SidesTable'
import { type Seen, seasonOpen, useShelf, whence } from './use_shelf'
import { type AgeWorth, type Interval, placesOf, type SpeciesWorth, type Worth, worthQuery, worthShelf } from './worth'

export function WorthPage() {
  const season = seasonOpen.value
  const books = useShelf(shelf, queryOf({ by: 'bed', season, keep: {} }))
  const worth = useShelf(worthShelf, worthQuery(season))
  const open = books.found?.answer
  return (
    <>
      <PageHead title={t('worth.title')} back={href('money')}>
        <span class="aside whence" role="status">{whence(books)}</span>
      </PageHead>
      <div class="page money">
        <div class="columns">
          <div><WorthShown seen={worth} currency={open?.currency ?? ''} /></div>
          <div>{open ? <SidesTable books={open} /> : <SidesMissing seen={books} />}</div>
        </div>
      </div>
    </>
  )
}

function SidesMissing({ seen }: { readonly seen: Seen<Books> }) {
  if (seen.asking === 'failed') return <ShedFailed onRetry={seen.retry} />
  return <p class="say">{t(seen.asking === 'no' ? 'books.offline' : 'books.fetching')}</p>
}

function WorthShown({ seen, currency }: { readonly seen: Seen<Worth>; readonly currency: string }) {
  const [chosen, setChosen] = useState<string | undefined>(undefined)
  const working = seen.asking === 'yes' || seen.asking === 'slow'
  if (!seen.found) {
    if (seen.asking === 'failed') return <ShedFailed onRetry={seen.retry} />
    return <p class="say" role="status">{t(working ? 'worth.fetching' : 'worth.offline')}</p>
  }
  const { species } = seen.found.answer
  const shown = species.find((one) => one.species === chosen) ?? species.find((one) => one.species !== '') ?? species[0]
  return (
    <>
      {seen.asking === 'failed' && <ShedFailed onRetry={seen.retry} />}
      {seen.asking === 'slow' && <p class="note" role="status">{t('worth.again')}</p>}
      {species.length > 1 && (
        <div class="choices" role="group" aria-label={t('ages.crop')}>
          {species.map((one) => (
            <button key={one.species} type="button" class="btn" aria-pressed={one === shown} onClick={() => setChosen(one.species)}>{one.species || t('ages.no_species')}</button>
          ))}
        </div>
      )}
      {shown && shown.ages.length > 0 ? <OfSpecies of={shown} currency={currency} /> : <p class="say">{t('worth.none')}</p>}
    </>
  )
}

/** The age that leads: one more season in the ground is what a grower asks about. */
const leadAge = 2

function OfSpecies({ of, currency }: { readonly of: SpeciesWorth; readonly currency: string }) {
  const lead = of.ages.find(({ age }) => age === leadAge) ?? of.ages[0]!
  const said = (of: Interval) => ({ cents: price(of.median, currency), lo: price(of.lo, currency), hi: price(of.hi, currency) })
  return (
    <>
      <Say text={t('worth.more', { age: lead.age, ...said(lead.cents) })} />
      {lead.age > 1 && <p><Marked text={t('worth.step', said(lead.more_cents))} /></p>}
      <WorthTable ages={of.ages} currency={currency} />
      <p class="small">{t('worth.cutting', { cut: price(of.cutting_a_stem, currency), bunch: price(of.bunching_a_stem, currency) })} {t('worth.why')}</p>
    </>
  )
}

function WorthTable({ ages, currency }: { readonly ages: readonly AgeWorth[]; readonly currency: string }) {
  const at = placesOf(ages.map(({ cents }) => cents))
  return (
    <table class="worth">
      <caption>{t('worth.caption')}</caption>
      <thead><tr><th scope="col">{t('worth.col.age')}</th><th scope="col">{t('worth.col.stems')}</th><th scope="col">{t('worth.col.cents')}</th></tr></thead>
      <tbody>
        {ages.map(({ age, stems, cents }) => (
          <tr key={age}>
            <th scope="row">
              {t('season.in_ground', { age })}
              <span class="sum-track" aria-hidden="true">
                <span class="span" style={{ left: `${at(cents.lo)}%`, width: `${at(cents.hi) - at(cents.lo)}%` }} />
                <span class="middle" style={{ left: `${at(cents.median)}%` }} />
              </span>
            </th>
            <td><b>{decimal(stems.median, 0)}</b><span class="small block">{t('worth.between', { lo: decimal(stems.lo, 0), hi: decimal(stems.hi, 0) })}</span></td>
            <td><b>{price(cents.median, currency)}</b><span class="small block">{t('worth.between', { lo: price(cents.lo, currency), hi: price(cents.hi, currency) })}</span></td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
