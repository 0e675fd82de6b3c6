// What a person does about the ask that is typed: copies a reply, promises, or keeps it as one that is not met. Each keeps the
// ask with what was told.

import { type RefObject } from 'preact'
import { useRef, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { Ask } from '../crop/ahead_nouns'
import type { Farm } from '../crop/nouns'
import type { BunchID, BuyerID, Cents, OrderID } from '../crop/sale_nouns'
import { type Asked, chanceOf, type Help, keepChance, safeAt, type Told } from '../forecast/asking'
import { perMille } from '../forecast/clashes'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { copyText } from '../ui/copy_text'
import { buyerWritten } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { today } from '../ui/today'
import { type Undoable, useUndoable } from '../ui/use_undoable'
import { askDraft } from './ask_draft'
import { inBunches, inWholeBunches, isNews, keepAsk, promiseStems } from './promise_deeds'
import { replyText } from './reply'

export interface Answering {
  readonly farm: Farm
  readonly asked: Asked
  readonly told: Told
  /** Only whole bunches of so many stems are offered. */
  readonly bunch: number
  readonly helps: readonly Help[]
}

export interface Promising {
  /** The ask as it was kept, if it was. */
  readonly kept: Ask | undefined
  readonly isPromised: boolean
  /** Stems that are safe at the farm's own odds; of these, no more than were asked for; and all that were asked for. */
  readonly safe: number
  readonly promisable: number
  readonly wanted: number
  readonly text: string
  /** Where the text stands, to be marked where it cannot be copied. */
  readonly area: RefObject<HTMLTextAreaElement | null>
  /** What came of copying. */
  readonly said: string
  readonly doing: Undoable
  readonly reply: () => void
  readonly promise: (stems: number, buyer: BuyerID) => void
  readonly decline: () => void
}

export function usePromising({ farm, asked, told, bunch, helps }: Answering): Promising {
  const notebook = useNotebook()
  const may = useRights()
  const draft = askDraft.value
  const doing = useUndoable()
  const { area, said, copy } = useCopied()
  const kept = farm.ahead.asks.get(draft.id)
  const isPromised = kept?.answer === 'promised'
  const safe = safeAt(told, keepChance(farm.sales.terms), bunch)
  const wanted = inWholeBunches(asked.stems, bunch)
  const promisable = wanted > 0 ? Math.min(wanted, safe) : safe
  const offered = isPromised ? kept.offered : promisable
  const text = replyText(farm, { asked, day: told.day, stems: offered, promised: isPromised, helps })
  const answered = (answer: Ask['answer'], stems: number): Ask => ({
    ...asked, id: draft.id, buyer: draft.buyer, note: kept?.note ?? '', stems: asked.stems || stems, taken: kept?.taken || today.peek(),
    person: notebook.person.peek(), answer, offered: stems, chance: stems > 0 ? perMille(chanceOf(told, stems)) : 0, order: '', price: 0 as Cents,
  })
  const reply = () => {
    void copy(text)
    const ask = answered('', offered)
    if (!may.manage || !isNews(kept, ask) || ask.stems === 0) return
    void doing.act((now) => ({ ...keepAsk(now, ask), said: t('promise.kept.open') }))
  }
  const promise = (stems: number, buyer: BuyerID) => {
    const { bunches, stems: each } = inBunches(stems, farm.sales.bunches.get(draft.bunch as BunchID))
    const promised = bunches * each
    // Begun with the tap, or the browser would not let it onto the clipboard.
    void copy(replyText(farm, { asked, day: told.day, stems: promised, promised: true, helps: [] }))
    void doing.act((now) => ({
      ...promiseStems(now, { ask: answered('promised', promised), buyer, day: told.day, taken: today.peek(), bunch: draft.bunch, stems, order: newUUID() as OrderID }),
      said: t('promise.kept.promised', { stems: t('stems', { n: promised }), buyer: buyerWritten(now, buyer), day: dayName(told.day, today.peek()) }),
    }))
  }
  const decline = () => void doing.act((now) => ({ ...keepAsk(now, answered('declined', 0)), said: t('promise.kept.declined') }))
  return { kept, isPromised, safe, promisable, wanted, text, area, said, doing, reply, promise, decline }
}

function useCopied() {
  const [said, setSaid] = useState('')
  const area = useRef<HTMLTextAreaElement>(null)
  const copy = async (words: string) => {
    const came = await copyText(words)
    if (!came) area.current?.select()
    const what = t(came ? 'promise.reply.copied' : 'promise.reply.by_hand')
    setSaid(what)
    announce(what)
  }
  return { area, said, copy }
}
