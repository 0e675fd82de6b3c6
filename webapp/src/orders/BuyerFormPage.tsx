// A new buyer, or one that is changed.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { changing, type Deed } from '../crop/deed'
import type { ColourID, Farm } from '../crop/nouns'
import { acceptsFacts, buyerFacts } from '../crop/sale_facts'
import { withdrawnFact } from '../crop/facts'
import type { Buyer, BuyerID, ChannelID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { goInstead, href } from '../ui/route'
import { coloursText } from '../ui/sale_words'
import { failureText } from '../ui/words'
import { isNamedAlike } from './buyers'
import { ColourPick } from './ColourPick'
import { doDeed } from './deeds'
import { type BuyerProblem, buyerProblems } from './forms'

export function BuyerFormPage({ before }: { readonly before: Buyer | undefined }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const channels = [...farm.sales.channels.values()].sort((a, b) => a.name.localeCompare(b.name))
  const [start] = useState<Buyer>(() => before ?? {
    id: newUUID() as BuyerID, name: '', channel: (channels.length === 1 ? channels[0]!.id : '') as ChannelID, address: '', phone: '', email: '', note: '', accepts: new Map(),
  })
  const [draft, setDraft] = useState(start)
  const [problems, setProblems] = useState<readonly BuyerProblem[]>([])
  const [failure, setFailure] = useState('')
  const tell = (part: Partial<Buyer>) => {
    setDraft((all) => ({ ...all, ...part }))
    setProblems([])
  }
  const save = async (event: Event) => {
    event.preventDefault()
    const lacking = buyerProblems(draft)
    if (lacking.length > 0) return setProblems(lacking)
    try {
      await doDeed(notebook, before ? changing(factsOf(start, draft), factsOf(draft, start)) : newBuyer(draft), t('orders.buyer.saved', { name: draft.name.trim() }))
      goInstead('shed', 'orders', 'buyers', draft.id)
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  const field = (name: 'name' | 'phone' | 'email', keys: 'text' | 'tel' | 'email', most: number) => (
    <label class="field">
      <span>{t(`orders.buyer.${name}`)}</span>
      <input inputMode={keys} autocomplete="off" maxLength={most} value={draft[name]} onInput={(event) => tell({ [name]: event.currentTarget.value })} />
    </label>
  )
  return (
    <>
      <PageHead title={t(before ? 'orders.buyer.change' : 'orders.buyer.new')} back={before ? href('shed', 'orders', 'buyers', before.id) : href('shed', 'orders', 'buyers')} />
      <form class="page orders" noValidate onSubmit={(event) => void save(event)}>
        <div class="columns">
          <div>
            {field('name', 'text', 120)}
            {isNamedAlike(farm.sales, draft) && <p class="note warn">{t('orders.buyer.alike')}</p>}
            {channels.length > 0 && <Choice name={t('orders.buyer.channel')} value={draft.channel} options={channels.map(({ id, name }) => [id, name] as const)} onChoose={(channel) => tell({ channel })} />}
            {channels.length === 0 && <p class="note">{t('orders.channels.none')} <a href={href('shed', 'orders', 'channels', 'new')}>{t('orders.channel.new')}</a></p>}
            {field('phone', 'tel', 60)}
            {field('email', 'email', 120)}
            <label class="field">
              <span>{t('orders.buyer.address')}</span>
              <textarea maxLength={500} value={draft.address} onInput={(event) => tell({ address: event.currentTarget.value })} />
            </label>
            <label class="field">
              <span>{t('orders.buyer.note')}</span>
              <textarea maxLength={1000} value={draft.note} onInput={(event) => tell({ note: event.currentTarget.value })} />
            </label>
          </div>
          <div><Accepts farm={farm} accepts={draft.accepts} onAccepts={(accepts) => tell({ accepts })} /></div>
        </div>
        <div class="sale-do">
          {problems.map((one) => <p key={one} class="note stop" role="alert">{t(`orders.buyer.problem.${one}`)}</p>)}
          {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
          <button type="submit" class="btn main">{t('orders.save')}</button>
        </div>
      </form>
    </>
  )
}

function newBuyer(buyer: Buyer): Deed {
  return { facts: factsOf(buyer, buyer), undo: [withdrawnFact('buyer', buyer.id, true, 'shed')] }
}

/** What is said of a buyer, also of colours for which the other way of it takes something and this one nothing. */
function factsOf(buyer: Buyer, other: Buyer) {
  const colours = [...new Set([...buyer.accepts.keys(), ...other.accepts.keys()])]
  const { id, name, channel, address, phone, email, note } = buyer
  const told = { name: name.trim(), channel, address: address.trim(), phone: phone.trim(), email: email.trim(), note: note.trim() }
  return [...buyerFacts(id, told), ...colours.flatMap((colour) => acceptsFacts(id, colour, buyer.accepts.get(colour) ?? []))]
}

interface AcceptsProps {
  readonly farm: Farm
  readonly accepts: Buyer['accepts']
  readonly onAccepts: (accepts: Buyer['accepts']) => void
}

/** What a buyer takes in place of each colour class, one open at a time. */
function Accepts({ farm, accepts, onAccepts }: AcceptsProps) {
  const [open, setOpen] = useState<ColourID | ''>('')
  const colours = [...farm.colours.values()].sort((a, b) => a.name.localeCompare(b.name))
  return (
    <section class="card" aria-label={t('orders.accepts')}>
      <h2>{t('orders.accepts')}</h2>
      <p class="small">{t('orders.accepts.why')}</p>
      <ul class="rows">
        {colours.map(({ id, name }) => {
          const others = accepts.get(id) ?? []
          return (
            <li key={id}>
              <button type="button" class="line plain" aria-expanded={open === id} onClick={() => setOpen(open === id ? '' : id)}>
                <b>{name}</b><span class="small">{others.length === 0 ? t('orders.accepts.nothing') : coloursText(farm, others)}</span>
              </button>
              {open === id && (
                <ColourPick
                  farm={farm} label={t('orders.accepts.instead', { name })} chosen={others} without={id}
                  onChoose={(chosen) => onAccepts(new Map([...accepts, [id, chosen]]))}
                />
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}
