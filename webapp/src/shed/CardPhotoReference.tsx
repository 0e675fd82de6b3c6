// What a card is photographed beside: a card that is known, or a patch whose colour somebody tells.

import type { Lab } from '../colour/lab'
import { shownBatch } from '../crop/tag_code'
import { listed, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import type { PatchProblem } from './card_photo'
import { type Part, parts, type TypedColour } from './card_typed'

interface CardPhotoReferenceProps {
  readonly by: 'card' | 'patch'
  /** Batches that can be photographed beside. */
  readonly known: readonly string[]
  readonly typed: TypedColour
  readonly patch: Lab | PatchProblem
  readonly onBy: (by: 'card' | 'patch') => void
  readonly onType: (typed: TypedColour) => void
}

export function CardPhotoReference({ by, known, typed, patch, onBy, onType }: CardPhotoReferenceProps) {
  return (
    <section class="card">
      <Choice
        name={t('cards.photo.beside')} value={by} onChoose={onBy}
        options={[['card', t('cards.photo.beside.card')], ['patch', t('cards.photo.beside.patch')]]}
      />
      {by === 'card'
        ? <p class="small">{known.length === 0 ? t('cards.photo.card.none') : t('cards.photo.card', { batches: listed(known.map(shownBatch)) })}</p>
        : <Patch typed={typed} patch={patch} onType={onType} />}
    </section>
  )
}

function Patch({ typed, patch, onType }: Pick<CardPhotoReferenceProps, 'typed' | 'patch' | 'onType'>) {
  const told = typeof patch === 'string' && typed.L.trim() !== '' ? patch : undefined
  return (
    <>
      <p class="small">{t('cards.photo.patch')}</p>
      <fieldset class="card-row">
        <legend>{t('cards.photo.patch.colour')}</legend>
        {parts.map((part) => <PatchPart key={part} part={part} typed={typed} wrong={told !== undefined} onType={onType} />)}
        {told && <p class="note stop" role="status">{t(`cards.photo.patch.${told}`)}</p>}
      </fieldset>
      <p class="small">{t('cards.photo.patch.rough')}</p>
    </>
  )
}

interface PatchPartProps {
  readonly part: Part
  readonly typed: TypedColour
  readonly wrong: boolean
  readonly onType: (typed: TypedColour) => void
}

function PatchPart({ part, typed, wrong, onType }: PatchPartProps) {
  return (
    <label class="field">
      <span>{part}</span>
      <input type="text" inputMode={part === 'L' ? 'decimal' : 'text'} autocomplete="off" value={typed[part]} aria-invalid={wrong}
        onInput={(event) => onType({ ...typed, [part]: event.currentTarget.value })} />
    </label>
  )
}
