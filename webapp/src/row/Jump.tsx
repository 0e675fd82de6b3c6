// Going to a plant by what its tag says, typed or scanned, or by its place, and the walk as a list below.

import { useState } from 'preact/hooks'
import type { Bed, Plant, PlantID } from '../crop/nouns'
import { isMisread } from '../crop/tag_code'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { go, href } from '../ui/route'
import { today } from '../ui/today'
import { findPlants } from './find'
import { PlantRows } from './PlantRows'
import type { Session } from './session'

/** More are of no help to a finger: typing on is quicker. */
const mostListed = 20

interface JumpProps {
  readonly session: Session
  readonly bed: Bed
  readonly order: readonly Plant[]
  readonly at: PlantID | ''
}

export function Jump({ session, bed, order, at }: JumpProps) {
  const farm = useNotebook().farm.value
  const [typed, setTyped] = useState('')
  const found = typed.trim() === '' ? undefined : findPlants(farm, bed.id, today.value, typed)
  const jump = (plant: PlantID) => {
    if (!session.jump(plant)) return
    setTyped('')
    go('row')
  }
  const submit = (event: SubmitEvent) => {
    event.preventDefault()
    const first = found?.[0]
    if (!first) return
    // Else the keys that count would go on writing in the field.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur()
    jump(first.id)
  }
  return (
    <>
      <form class="jump" role="search" onSubmit={submit}>
        <label class="field">
          <span>{t('jump.label')}</span>
          <input
            type="text" value={typed} placeholder={t('jump.example')} autocomplete="off" autocapitalize="characters"
            spellcheck={false} enterkeyhint="go" onInput={(event) => setTyped(event.currentTarget.value)}
          />
        </label>
        {found && found.length > 0 && <button type="submit" class="btn">{t('jump.go')}</button>}
        <a class="btn" href={href('row', 'scan')} aria-label={t('scan')}><Icon name="scan" />{t('scan.short')}</a>
      </form>
      {found?.length === 0 && <p class="note" role="status">{t('jump.none')}{isMisread(typed) && ` ${t('jump.misread')}`}</p>}
      <PlantRows session={session} bed={bed.id} order={found?.slice(0, mostListed) ?? order} at={at} onChoose={jump} />
      {found && found.length > mostListed && <p class="small" role="status">{t('jump.more', { n: found.length - mostListed })}</p>}
    </>
  )
}
