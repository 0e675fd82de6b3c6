// What is asked: how many stems, for when, in which colours and how good, and by whom.

import { addDays, parseDay } from '../crop/day'
import { type Day, type Farm, mostBenchStems, type Millimetres } from '../crop/nouns'
import type { BunchID, BuyerID } from '../crop/sale_nouns'
import { count, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { Head } from '../ui/Head'
import { inUnit } from '../ui/lengths'
import { today } from '../ui/today'
import { WhatIs } from '../ui/WhatIs'
import { askDraft, stemsTyped, tellDraft, withBunch, withColour } from './ask_draft'
import { BuyerChips } from './BuyerChips'
import { Chip, Chips } from './Chips'
import { type WhenChoices, whenChoices } from './ask_when'
import { dayShort, weekShort } from './ask_words'

interface AskFormProps {
  readonly farm: Farm
  /** The weeks from the first on in which anything comes. */
  readonly weeks: readonly Day[]
  /** Lower edges of the length classes that the forecast tells apart. */
  readonly lengths: readonly number[]
}

export function AskForm({ farm, weeks, lengths }: AskFormProps) {
  const draft = askDraft.value
  return (
    <form class="ask-form" noValidate onSubmit={(event) => event.preventDefault()}>
      <Stems />
      <When weeks={weeks} />
      <Colours farm={farm} />
      <BuyerChips farm={farm} label={t('promise.buyer')} chosen={draft.buyer} onChoose={(buyer: BuyerID | '') => tellDraft({ buyer })} />
      <AtLeast farm={farm} lengths={lengths} />
    </form>
  )
}

const step = 10

function Stems() {
  const { stems } = askDraft.value
  const now = stemsTyped(stems)
  const to = (n: number) => tellDraft({ stems: n <= 0 ? '' : String(Math.min(n, mostBenchStems)) })
  return (
    <div class="ask-stems" role="group" aria-label={t('promise.stems')}>
      <button type="button" class="btn" aria-label={t('promise.stems.less', { n: step })} disabled={!now} onClick={() => to((now ?? 0) - step)}>−</button>
      <label>
        <span>{t('promise.stems')}</span>
        <input inputMode="numeric" autocomplete="off" maxLength={6} value={stems} aria-invalid={now === undefined} onInput={(event) => tellDraft({ stems: event.currentTarget.value })} />
      </label>
      <button type="button" class="btn" aria-label={t('promise.stems.more', { n: step })} disabled={now === undefined} onClick={() => to((now ?? 0) + step)}>+</button>
      {now === undefined && <p class="note stop" role="alert">{t('promise.stems.wrong', { most: count(mostBenchStems) })}</p>}
    </div>
  )
}

function When({ weeks }: { readonly weeks: readonly Day[] }) {
  const { from, due } = askDraft.value
  const { days, ...whole } = whenChoices(weeks, today.value)
  const aDay = from !== '' && from === due ? due : ''
  const other = aDay !== '' && !days.includes(aDay)
  const onDay = (day: Day) => tellDraft({ from: day, due: day })
  return (
    <>
      <Chips label={t('promise.day')}>
        {days.map((day) => <Chip key={day} on={day === aDay} onTap={() => onDay(day)}>{day === today.value ? t('promise.day.today') : dayShort(day)}</Chip>)}
        <label class={other ? 'btn chip-date on' : 'btn chip-date'}>
          <span class="unseen">{t('promise.day.other')}</span>
          <input type="date" value={aDay} onInput={(event) => { const day = parseDay(event.currentTarget.value); if (day) onDay(day) }} />
        </label>
      </Chips>
      <Weeks {...whole} chosen={from !== due ? from : ''} />
    </>
  )
}

function Weeks({ weeks, later, chosen }: Pick<WhenChoices, 'weeks' | 'later'> & { readonly chosen: Day | '' }) {
  const onWeek = (monday: Day) => tellDraft({ from: monday, due: addDays(monday, 6) })
  const isLater = later.some((monday) => monday === chosen)
  return (
    <Chips label={t('promise.week')}>
      {weeks.map((monday) => <Chip key={monday} on={monday === chosen} onTap={() => onWeek(monday)}>{weekShort(monday)}</Chip>)}
      {later.length > 0 && (
        <select class={isLater ? 'btn chip-select on' : 'btn chip-select'} aria-label={t('promise.week.later')} value={isLater ? chosen : ''} onChange={(event) => { if (event.currentTarget.value !== '') onWeek(event.currentTarget.value as Day) }}>
          <option value="">{t('promise.week.later')}</option>
          {later.map((monday) => <option key={monday} value={monday}>{weekShort(monday)}</option>)}
        </select>
      )}
    </Chips>
  )
}

function Colours({ farm }: { readonly farm: Farm }) {
  const { colours: chosen } = askDraft.value
  const colours = [...farm.colours.values()].sort((a, b) => a.name.localeCompare(b.name))
  return (
    <Chips label={t('promise.colours')}>
      <Chip on={chosen.length === 0} onTap={() => tellDraft({ colours: [] })}>{t('promise.colours.any')}</Chip>
      {colours.map(({ id, name, swatch }) => (
        <Chip key={id} on={chosen.includes(id)} onTap={() => tellDraft({ colours: withColour(chosen, id) })}><Head swatch={swatch} size={28} />{name}</Chip>
      ))}
    </Chips>
  )
}

function AtLeast({ farm, lengths }: Omit<AskFormProps, 'weeks'>) {
  const { grade, length, bunch } = askDraft.value
  const bunches = [...farm.sales.bunches.values()].sort((a, b) => a.name.localeCompare(b.name))
  const edges = [...new Set([0, ...lengths, length])].sort((a, b) => a - b)
  const lengthSaid = (edge: number) => (edge === 0 ? t('length.any') : t(farm.unit === 'in' ? 'length.in' : 'length.cm', { lo: inUnit(edge as Millimetres, farm.unit) }))
  const gradeSaid = grade === '' ? t('orders.grade.any') : t(`grade.${grade}`)
  const told = [gradeSaid, length === 0 ? '' : lengthSaid(length), farm.sales.bunches.get(bunch as BunchID)?.name ?? ''].filter((part) => part !== '').join(', ')
  return (
    <details class="ask-least">
      <summary><span>{t('promise.least')}</span> <b>{told}</b></summary>
      <WhatIs of="grades" />
      <Choice
        name={t('orders.grade')} value={grade === 'out' ? '' : grade} onChoose={(one) => tellDraft({ grade: one })}
        options={(['', 'second', 'first', 'extra'] as const).map((one) => [one, one === '' ? t('orders.grade.any') : t(`grade.${one}`)] as const)}
      />
      <Choice
        name={t('promise.length')} value={String(length)} onChoose={(one) => tellDraft({ length: Number(one) as Millimetres })}
        options={edges.map((edge) => [String(edge), lengthSaid(edge)] as const)}
      />
      {bunches.length > 0 && (
        <Choice
          name={t('promise.bunch')} value={bunch as string} onChoose={(one) => tellDraft(withBunch(farm.sales.bunches.get(one as BunchID)))}
          options={[['', t('promise.bunch.none')] as const, ...bunches.map(({ id, name }) => [id as string, name] as const)]}
        />
      )}
    </details>
  )
}
