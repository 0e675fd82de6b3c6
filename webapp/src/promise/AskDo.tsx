// What is done about an ask: a reply is copied, stems are promised, or it is kept as one that could not be met. The bar stands
// within reach of the thumb, with the answer in short.

import { useRef, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { Ask } from '../crop/ahead_nouns'
import type { Farm } from '../crop/nouns'
import type { BunchID, BuyerID, Cents, OrderID } from '../crop/sale_nouns'
import { type Asked, chanceOf, type Help, keepChance, safeAt, type Told } from '../forecast/asking'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { copyText } from '../ui/copy_text'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { buyerWritten } from '../ui/lot_words'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { askDraft, emptyDraft, tellDraft } from './ask_draft'
import { inHundred } from './ask_words'
import { BuyerChips } from './BuyerChips'
import { inBunches, keepAsk, perMille, promiseStems } from './promise_deeds'
import { PromisedPrice } from './PromisedPrice'
import { Reply } from './Reply'
import { replyText } from './reply'

interface AskDoProps {
  readonly farm: Farm
  readonly asked: Asked
  readonly told: Told
  readonly bunch: number
  readonly helps: readonly Help[]
}

export function AskDo({ farm, asked, told, bunch, helps }: AskDoProps) {
  const notebook = useNotebook()
  const may = useRights()
  const draft = askDraft.value
  const doing = useUndoable()
  const [said, setSaid] = useState('')
  /** Stems to be promised as soon as it is said to whom. */
  const [waiting, setWaiting] = useState(0)
  const area = useRef<HTMLTextAreaElement>(null)
  const kept = farm.ahead.asks.get(draft.id)
  const isPromised = kept?.answer === 'promised'
  const odds = keepChance(farm.sales.terms)
  const safe = safeAt(told, odds, bunch)
  const wanted = asked.stems - (asked.stems % bunch)
  const offered = isPromised ? kept.offered : wanted > 0 ? Math.min(wanted, safe) : safe
  const text = replyText(farm, { asked, day: told.day, stems: offered, promised: isPromised, helps })
  const ask = (answer: Ask['answer'], stems: number): Ask => ({
    id: draft.id, buyer: draft.buyer, note: '', stems: asked.stems || stems, colours: asked.colours, grade: asked.grade, length: asked.length,
    from: asked.from, due: asked.due, taken: kept?.taken || today.peek(), person: notebook.person.peek(), answer, offered: stems,
    chance: stems > 0 ? perMille(chanceOf(told, stems)) : 0, order: '', price: 0 as Cents,
  })
  const copy = async (words: string) => {
    const came = await copyText(words)
    if (!came) area.current?.select()
    setSaid(t(came ? 'promise.reply.copied' : 'promise.reply.by_hand'))
    announce(t(came ? 'promise.reply.copied' : 'promise.reply.by_hand'))
  }
  const reply = () => {
    void copy(text)
    const isKept = kept?.offered === offered && kept.stems === asked.stems
    if (!may.manage || isPromised || isKept || offered + asked.stems === 0) return
    void doing.act((now) => ({ ...keepAsk(now, ask('', offered)), said: t('promise.kept.open') }))
  }
  const promise = (stems: number, buyer: BuyerID | '') => {
    if (buyer === '') return setWaiting(stems)
    setWaiting(0)
    const { bunches, stems: each } = inBunches(stems, farm.sales.bunches.get(draft.bunch as BunchID))
    const promised = bunches * each
    // Begun with the tap, or the browser would not let it onto the clipboard.
    void copy(replyText(farm, { asked, day: told.day, stems: promised, promised: true, helps: [] }))
    void doing.act((now) => ({
      ...promiseStems(now, { ask: ask('promised', promised), buyer, day: told.day, bunch: draft.bunch, stems, order: newUUID() as OrderID }),
      said: t('promise.kept.promised', { stems: t('stems', { n: promised }), buyer: buyerWritten(now, buyer), day: dayName(told.day, today.peek()) }),
    }))
  }
  const decline = () => void doing.act((now) => ({ ...keepAsk(now, ask('declined', 0)), said: t('promise.kept.declined') }))
  const again = () => {
    doing.forget()
    setSaid('')
    askDraft.value = emptyDraft()
    scrollTo(0, 0)
  }
  const promisable = wanted > 0 ? Math.min(wanted, safe) : safe
  return (
    <>
      {waiting > 0 && (
        <div class="card">
          <h2>{t('promise.to_whom', { stems: t('stems', { n: waiting }) })}</h2>
          <BuyerChips farm={farm} label={t('promise.buyer')} chosen="" onChoose={(buyer) => { tellDraft({ buyer }); promise(waiting, buyer) }} />
          {farm.sales.buyers.size === 0 && <a class="btn" href={href('shed', 'orders', 'buyers', 'new')}>{t('promise.buyer.new')}</a>}
        </div>
      )}
      {may.manage && !isPromised && (
        <>
          {draft.buyer !== '' && <PromisedPrice farm={farm} buyer={draft.buyer} bunch={draft.bunch} colours={asked.colours} day={told.day} stems={promisable} />}
          <div class="buttons">
            {wanted > promisable && <button type="button" class="btn" onClick={() => promise(wanted, draft.buyer)}>{t('promise.as_asked', { n: wanted })}</button>}
            {asked.stems > 0 && <button type="button" class="btn" onClick={decline}>{t('promise.decline')}</button>}
          </div>
        </>
      )}
      {!may.manage && <p class="note">{t('promise.owner_only')}</p>}
      <UndoNote {...doing} />
      {isPromised && kept.order !== '' && <a class="btn" href={href('shed', 'orders', 'order', kept.order)}>{t('promise.order')}</a>}
      <Reply text={text} area={area} said={said} onCopy={reply} />
      <div class="ask-do">
        <p class="ask-short" role="status">
          {asked.stems > 0 && <><b>{inHundred(chanceOf(told, asked.stems))}</b> {t('promise.in_hundred')} · </>}{t('promise.safe.short', { n: safe })}
        </p>
        <div class="ask-buttons">
          {isPromised || kept?.answer === 'declined'
            ? <button type="button" class="btn tall" onClick={again}>{t('promise.again')}</button>
            : may.manage && promisable > 0 && <button type="button" class="btn main" onClick={() => promise(promisable, draft.buyer)}>{t('promise.promise', { n: promisable })}</button>}
          <button type="button" class={isPromised || !may.manage || promisable === 0 ? 'btn main' : 'btn tall'} onClick={reply}>{t('promise.reply.copy')}</button>
        </div>
      </div>
    </>
  )
}
