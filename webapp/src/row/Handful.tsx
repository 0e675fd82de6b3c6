// A handful is one number: keys 1 to 9, and two digits for more, without a dialogue.

import type { PlantID } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import type { Session } from './session'

interface HandfulProps {
  readonly session: Session
  readonly plant: PlantID
  /** Stems that the plant has today already. */
  readonly seen: number
}

export function Handful({ session, plant, seen }: HandfulProps) {
  const tens = session.tens.value
  const setTens = (value: number | undefined) => { session.tens.value = value }
  const press = (digit: number) => session.digit(plant, digit)
  return (
    <div class="handful" role="group" aria-label={t('row.handful')}>
      {[1, 2, 3, 4, 5, 6, 7, 8, 9].map((digit) => (
        <button key={digit} type="button" aria-label={keyName(tens, digit, seen)} onClick={() => press(digit)}>
          <Before tens={tens} seen={seen} />{count(digit)}
        </button>
      ))}
      {tens === undefined
        ? <button type="button" class="more" onClick={() => setTens(0)}>{t('row.more')}</button>
        : <TwoDigits tens={tens} onCancel={() => setTens(undefined)} onZero={() => press(0)} />}
    </div>
  )
}

/** The first digit of two; or that the number adds to what the plant has today. */
function Before({ tens, seen }: Pick<HandfulProps, 'seen'> & { readonly tens: number | undefined }) {
  if (tens) return <span class="tens" aria-hidden="true">{count(tens)}</span>
  return tens === undefined && seen > 0 ? <span class="tens" aria-hidden="true">+</span> : null
}

interface TwoDigitsProps {
  readonly tens: number
  readonly onCancel: () => void
  readonly onZero: () => void
}

function TwoDigits({ tens, onCancel, onZero }: TwoDigitsProps) {
  return (
    <>
      <button type="button" class="cancel" aria-label={t('row.more.cancel')} onClick={onCancel}><Icon name="back" /></button>
      <button type="button" disabled={tens === 0} aria-label={keyName(tens, 0, 0)} onClick={onZero}>
        {tens ? <span class="tens" aria-hidden="true">{count(tens)}</span> : null}{count(0)}
      </button>
      <span class="prompt" role="status">{tens === 0 ? t('row.more.first') : t('row.more.second')}</span>
    </>
  )
}

function keyName(tens: number | undefined, digit: number, seen: number): string {
  if (tens === undefined) return t(seen > 0 ? 'row.key.more' : 'row.key', { n: digit })
  return tens === 0 ? t('row.key.tens', { tens: digit }) : t('row.key', { n: tens * 10 + digit })
}
