// The places that work: a bar at the bottom of a phone, at the side of a wide screen.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { ReadySign } from './ReadySign'

export const places = ['row', 'shed', 'beds'] as const
export type Place = (typeof places)[number]

export function Bar({ at }: { readonly at: Place }) {
  const farm = useNotebook().farm.value
  return (
    <nav class="bar" aria-label={t('places')}>
      <p class="bar-farm">{farm.name}</p>
      <ul>
        {places.map((place) => (
          <li key={place}>
            <a href={href(place)} aria-current={place === at ? 'page' : undefined}><Icon name={place} />{t(`place.${place}`)}</a>
          </li>
        ))}
      </ul>
      <div class="bar-foot">
        <ReadySign />
        {farm.madeUp && <p class="small">{t('made_up')}</p>}
      </div>
    </nav>
  )
}
