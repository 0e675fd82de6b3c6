// Finding the colours of a batch by photo: one of its cards beside what is known, some photos, and what they come to
// beside what was printed, before anybody takes it.

import { useRef, useState } from 'preact/hooks'
import type { Card } from '../crop/nouns'
import { shownBatch } from '../crop/tag_code'
import { type Measurer, MeasuringProblem } from '../measuring/measurer'
import { TakeOrPickFile } from '../measuring/PickFile'
import { useMeasurer } from '../measuring/use_measurer'
import type { CardBeside } from '../measuring/worker_messages'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { type CardPhoto, enoughPhotos, foundIn, goodPhotos, patchSE, patchTyped } from './card_photo'
import { CardPhotoFound } from './CardPhotoFound'
import { CardPhotoList } from './CardPhotoList'
import { CardPhotoReference } from './CardPhotoReference'
import { CardPhotoTap } from './CardPhotoTap'
import type { TypedColour } from './card_typed'
import { referenceCards } from './cards'
import { useCardChange } from './use_card_change'

export function CardPhotoPage({ card }: { readonly card: Card }) {
  const farm = useNotebook().farm.value
  const known = referenceCards(farm, today.value, card.id)
  const usable = [...known].filter(([, { retired }]) => !retired).map(([batch]) => batch)
  const { change, problem } = useCardChange(card)
  const [by, setBy] = useState<CardBeside['kind']>(usable.length > 0 ? 'card' : 'patch')
  const [typed, setTyped] = useState<TypedColour>({ L: '', a: '0', b: '0' })
  const patch = patchTyped(typed)
  const { photos, take, clear } = useCardPhotos(card)
  const [tapping, setTapping] = useState<Blob | undefined>(undefined)
  const found = foundIn(photos, by)
  const ready = by === 'card' ? usable.length > 0 : typeof patch === 'object'
  const picked = (file: Blob) => {
    if (by === 'card') take(file, { kind: 'card', cards: known })
    else setTapping(file)
  }
  const tapped = (at: { readonly x: number; readonly y: number }) => {
    if (tapping && typeof patch === 'object') take(tapping, { kind: 'patch', lab: patch, se: patchSE, at })
    setTapping(undefined)
  }
  const accept = async () => {
    if (!found) return
    const told = { patches: found.patches, se: found.se, how: 'beside', measured: today.peek() } as const
    if (await change(told, t('cards.said.beside'))) go('shed', 'cards', card.id)
  }
  return (
    <>
      <PageHead title={t('cards.photo', { batch: shownBatch(card.id) })} back={href('shed', 'cards', card.id)} />
      <div class="page card-photo">
        <div class="columns">
          <div>
            <Say text={t('cards.photo.how')} />
            <CardPhotoReference by={by} known={usable} typed={typed} patch={patch} onBy={(one) => { setBy(one); clear() }} onType={(one) => { setTyped(one); clear() }} />
            {tapping
              ? <CardPhotoTap file={tapping} onTap={tapped} onLeave={() => setTapping(undefined)} />
              : ready && <Taking good={goodPhotos(photos)} onFile={picked} />}
          </div>
          <div>
            <CardPhotoList photos={photos} />
            {found && <CardPhotoFound found={found} onAccept={() => void accept()} />}
            {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
          </div>
        </div>
      </div>
    </>
  )
}

function Taking({ good, onFile }: { readonly good: number; readonly onFile: (file: Blob) => void }) {
  return (
    <section class="card">
      <h2>{t('cards.photo.take')}</h2>
      <p class="small">{good < enoughPhotos ? t('cards.photo.several', { n: enoughPhotos }) : t('cards.photo.enough')}</p>
      <TakeOrPickFile onFile={onFile} />
    </section>
  )
}

/** The photos that were chosen, one after the other in the worker that measures. */
function useCardPhotos(card: Card): { readonly photos: readonly CardPhoto[]; readonly take: (file: Blob, beside: CardBeside) => void; readonly clear: () => void } {
  const { measurer, leave } = useMeasurer()
  const [photos, setPhotos] = useState<readonly CardPhoto[]>([])
  const last = useRef(0)
  const take = (file: Blob, beside: CardBeside) => {
    const id = ++last.current
    setPhotos((all) => [...all, { id, state: 'measuring' }])
    void stateOf(measurer, file, card, beside).then((state) => setPhotos((all) => all.map((one) => (one.id === id ? { id, state } : one))))
  }
  const clear = () => {
    if (photos.length === 0) return
    leave()
    setPhotos([])
  }
  return { photos, take, clear }
}

async function stateOf(measurer: Measurer | undefined, file: Blob, card: Card, beside: CardBeside): Promise<CardPhoto['state']> {
  try {
    if (!measurer) throw new MeasuringProblem('other', 'looking at a card: the worker has not started')
    return { seen: await measurer.characterise(file, card.id, beside, () => {}) }
  } catch (reason) {
    return { failed: reason instanceof MeasuringProblem ? reason.reason : 'other' }
  }
}
