// A new channel, or one that is changed or deleted: its days, its cut-off and what its stems must bring.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { Fact } from '../log/change'
import { changing } from '../crop/deed'
import { withdrawnFact } from '../crop/facts'
import { channelFacts, floorFacts } from '../crop/sale_facts'
import { type Cents, type Channel, type ChannelID, channelKinds, type Weekdays } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { WhatIs } from '../ui/WhatIs'
import { failureText } from '../ui/words'
import { doDeed } from './deeds'
import { DeleteChannel } from './DeleteChannel'
import { type ChannelForm, channelForm, type ChannelProblem, readChannelForm, soldGrades } from './forms'
import { NumberStepper } from './NumberStepper'
import { floorsAboveAll } from './warnings'
import { WeekdayPick } from './WeekdayPick'

const nothing: Omit<Channel, 'id'> = {
  name: '', kind: 'wholesale', floor: new Map(), commission: 0, fee: 0 as Cents, buyerPays: false, cutoffDays: 0, cutoffTime: '', days: '' as Weekdays,
}

export function ChannelFormPage({ before }: { readonly before: Channel | undefined }) {
  const notebook = useNotebook()
  const { sales } = notebook.farm.value
  const [start] = useState<Channel>(() => before ?? { ...nothing, id: newUUID() as ChannelID })
  const [form, setForm] = useState(() => channelForm(start))
  const [problems, setProblems] = useState<readonly ChannelProblem[]>([])
  const [failure, setFailure] = useState('')
  const tell = (part: Partial<ChannelForm>) => {
    setForm((all) => ({ ...all, ...part }))
    setProblems([])
  }
  const read = readChannelForm(form, start.id)
  const save = async (event: Event) => {
    event.preventDefault()
    if ('problems' in read) return setProblems(read.problems)
    const deed = before ? changing(factsOf(start), factsOf(read.channel)) : { facts: factsOf(read.channel), undo: [withdrawnFact('channel', start.id, true, 'shed')] }
    try {
      await doDeed(notebook, deed, t('orders.channel.saved', { name: read.channel.name }))
      go('shed', 'orders', 'channels')
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  const money = (cents: Cents) => amount(cents, sales.terms.currency)
  return (
    <>
      <PageHead title={before?.name ?? t('orders.channel.new')} back={href('shed', 'orders', 'channels')} />
      <form class="page orders" noValidate onSubmit={(event) => void save(event)}>
        <div class="columns">
          <div>
            <label class="field">
              <span>{t('orders.channel.name')}</span>
              <input autocomplete="off" maxLength={80} value={form.name} onInput={(event) => tell({ name: event.currentTarget.value })} />
            </label>
            <Choice name={t('orders.channel.kind')} value={form.kind} options={channelKinds.map((kind) => [kind, t(`orders.channel.kind.${kind}`)] as const)} onChoose={(kind) => tell({ kind })} />
            <WeekdayPick label={t('orders.channel.days')} days={form.days} onDays={(days) => tell({ days })} />
            <p class="small">{t('orders.channel.days.none')}</p>
            <NumberStepper label={t('orders.channel.cutoff.days')} value={form.cutoffDays} least={0} most={60} onChange={(cutoffDays) => tell({ cutoffDays })} />
            <label class="field">
              <span>{t('orders.channel.cutoff.time')}</span>
              <input type="time" value={form.cutoffTime} onInput={(event) => tell({ cutoffTime: event.currentTarget.value })} />
            </label>
          </div>
          <div>
            <fieldset class="field">
              <legend>{t('orders.channel.floor')}</legend>
              <div class="three">
                {soldGrades.map((grade) => (
                  <label key={grade} class="field">
                    <span>{t(`grade.${grade}`)}</span>
                    <input inputMode="decimal" autocomplete="off" maxLength={12} value={form.floors[grade]} onInput={(event) => tell({ floors: { ...form.floors, [grade]: event.currentTarget.value } })} />
                  </label>
                ))}
              </div>
            </fieldset>
            <p class="small">{t('orders.channel.floor.why')}</p>
            <WhatIs of="floor" />
            {'channel' in read && floorsAboveAll(sales, read.channel).map(({ grade, floor, best, stems }) => (
              <p key={grade} class="note warn">{t('orders.channel.floor.above', { grade: t(`grade.${grade}`), floor: money(floor), price: money(best.cents), n: stems })}</p>
            ))}
            <div class="two-fields">
              <label class="field">
                <span>{t('orders.channel.commission')}</span>
                <input inputMode="decimal" autocomplete="off" maxLength={6} value={form.commission} onInput={(event) => tell({ commission: event.currentTarget.value })} />
              </label>
              <label class="field">
                <span>{t('orders.channel.fee')}</span>
                <input inputMode="decimal" autocomplete="off" maxLength={12} value={form.fee} onInput={(event) => tell({ fee: event.currentTarget.value })} />
              </label>
            </div>
            <WhatIs of="commission" />
            <Choice
              name={t('orders.channel.fee.who')} value={form.buyerPays ? 'buyer' : 'farm'}
              options={[['farm', t('orders.channel.fee.farm')], ['buyer', t('orders.channel.fee.buyer')]]} onChoose={(who) => tell({ buyerPays: who === 'buyer' })}
            />
            {before && <DeleteChannel channel={before} />}
          </div>
        </div>
        <div class="sale-do">
          {problems.map((one) => <p key={one} class="note stop" role="alert">{t(`orders.channel.problem.${one}`)}</p>)}
          {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
          <button type="submit" class="btn main">{t('orders.save')}</button>
        </div>
      </form>
    </>
  )
}

function factsOf({ id, floor, ...told }: Channel): Fact[] {
  return [...channelFacts(id, told), ...soldGrades.flatMap((grade) => floorFacts(id, grade, floor.get(grade) ?? (0 as Cents)))]
}
