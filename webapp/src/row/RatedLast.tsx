// The last action of a rated walk in words, and taking it back.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { ChangedSince } from '../ui/taps'
import { failureText } from '../ui/words'
import { Failure } from './LastAction'
import type { RatedLook } from './RatedWalk'

export function RatedLast<T extends string>({ look }: { readonly look: RatedLook<T> }) {
  const { session } = look
  const farm = useNotebook().farm.value
  const last = session.last()
  const failure = session.failure.value
  const code = last ? farm.plants.get(last.plant)?.code ?? '' : ''
  const what = last && (last.kind === 'flag' ? t('flag.colour_off') : look.name(last.what))
  return (
    <div class="last-action">
      {failure !== undefined
        ? <Failure text={failure instanceof ChangedSince ? t('rated.changed') : failureText(failure)} />
        : <p class="small">{what ? t('row.last', { action: t('rated.did', { code, what }) }) : t('row.last.none')}</p>}
      {last && what && (
        <button type="button" class="btn" onClick={() => void session.takeBack()}>
          {last.kind === 'flag' ? t('rated.back.flag', { code }) : t('rated.back', { what, code })}
        </button>
      )}
    </div>
  )
}
