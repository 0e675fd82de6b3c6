// The season's books in a sentence and as a sum, and the ways into them, each with what stands there now.

import { openBills } from '../crop/paid'
import type { Cents } from '../crop/sale_nouns'
import { seasonOf } from '../crop/season'
import { language, t } from '../messages/messages'
import { Icon, type IconName } from '../ui/Icon'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { type Books, queryOf, shelf } from './books'
import { bedsSentence, seasonSentence } from './books_words'
import { BooksShown, Doubts } from './BooksShown'
import { costsIn } from './costs'
import { SeasonSteps } from './SeasonSteps'
import { openDifferences } from './statements'
import { seasonOpen, useShelf, whence } from './use_shelf'

export function MoneyPage() {
  const seen = useShelf(shelf, queryOf({ by: 'bed', season: seasonOpen.value, keep: {} }))
  return (
    <>
      <PageHead title={t('place.money')}>
        <SyncChip />
        <span class="aside whence" role="status">{whence(seen)}</span>
      </PageHead>
      <div class="page money">
        <div class="columns">
          <div><BooksShown seen={seen}>{(books) => <SeasonBooks books={books} />}</BooksShown></div>
          <Entrances />
        </div>
      </div>
    </>
  )
}

function SeasonBooks({ books }: { readonly books: Books }) {
  const farm = useNotebook().farm.value
  const { all, rows, season, currency } = books
  if (rows.every(({ gross_cents: sold, costs_cents: costs, minutes }) => sold === 0 && costs === 0 && minutes === 0)) {
    return <p class="say">{t('books.empty', { season: String(season) })}</p>
  }
  return (
    <>
      <Say text={`${seasonSentence(books)} ${bedsSentence(farm, rows)}`} />
      <Doubts books={books} />
      <SeasonSteps books={books} />
      {all.shrunk_stems > 0 && <p class="small">{t('books.shrunk', { n: all.shrunk_stems, sum: amount(all.shrunk_cents, currency) })}</p>}
      <p class="small">{t('books.beds.how')}</p>
      <ReportLink season={season} />
    </>
  )
}

/** The season on paper. Nobody but an owner comes to this place, and the shed asks again. */
function ReportLink({ season }: { readonly season: number }) {
  return (
    <section>
      <a class="btn" href={`/api/report?season=${season}&language=${language.value}`} download><Icon name="save" />{t('books.report', { season: String(season) })}</a>
      <p class="small">{t('books.report.what')}</p>
    </section>
  )
}

function Entrances() {
  const farm = useNotebook().farm.value
  const { currency } = farm.sales.terms
  const season = seasonOf(farm.calendar, today.value)
  const owing = openBills(farm, today.value).filter(({ left }) => left > 0)
  const owed = owing.reduce((sum, { left }) => sum + left, 0) as Cents
  const differences = openDifferences(farm)
  const of = { costs: costsIn(farm.money, farm.calendar, season), season: String(season) }
  return (
    <nav class="entrances" aria-label={t('place.money')}>
      <Entrance page="views" icon="list" title={t('books.views')} said={t('books.views.said')} />
      <Entrance page="prices" icon="ages" title={t('prices.title')} said={t('prices.said')} />
      <Entrance page="worth" icon="beds" title={t('worth.title')} said={t('worth.said')} />
      <Entrance page="costs" icon="receipt" title={t('money.costs')} said={t('money.costs.season', { season: of.season, sum: amount(of.costs.sum, currency) })} />
      <Entrance page="unpaid" icon="money" title={t('money.unpaid')} said={owing.length === 0 ? t('money.unpaid.none') : t('money.unpaid.sum', { n: owing.length, sum: amount(owed, currency) })} />
      <Entrance page="statements" icon="check" title={t('money.statements')} said={differences === 0 ? t('money.statements.settled', { n: farm.money.statements.size }) : t('money.statements.open', { n: differences })} />
      <Entrance page="work" icon="clock" title={t('work.title')} said={t('money.work.what')} />
    </nav>
  )
}

interface EntranceProps {
  readonly page: string
  readonly icon: IconName
  readonly title: string
  readonly said: string
}

function Entrance({ page, icon, title, said }: EntranceProps) {
  return (
    <a class="entrance" href={page === 'work' ? href('row', 'work') : href('money', page)}>
      <Icon name={icon} />
      <span><b>{title}</b><span class="small block">{said}</span></span>
      <Icon name="on" />
    </a>
  )
}
