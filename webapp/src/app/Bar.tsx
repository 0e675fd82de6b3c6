// The places that work: a bar at the bottom of a phone, at the side of a wide screen.

import { count, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { saleLooks } from '../crop/sale_looks'
import { clashesNow } from '../forecast/clashes_now'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { ReadySign } from './ReadySign'

export const places = ['row', 'shed', 'beds', 'ahead', 'money'] as const
export type Place = (typeof places)[number]

export function Bar({ at }: { readonly at: Place }) {
  const notebook = useNotebook()
  const may = useRights()
  const farm = notebook.farm.value
  const looks = notebook.looks.value.length + farm.repeats.size + farm.plantLooks.length + saleLooks(farm, today.value).length + clashesNow.value.length
  const shown = places.filter((place) => place !== 'money' || may.manage)
  return (
    <nav class="bar" aria-label={t('places')}>
      {farm.name !== '' && <p class="bar-farm">{farm.name}</p>}
      <ul>
        {shown.map((place) => (
          <li key={place}>
            <a href={href(place)} aria-current={place === at ? 'page' : undefined}>
              <Icon name={place} />{t(`place.${place}`)}
              {place === 'shed' && looks > 0 && <LooksBadge n={looks} />}
            </a>
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

/** What needs a look is settled in the shed, and seen from every place. */
function LooksBadge({ n }: { readonly n: number }) {
  return (
    <>
      <span class="badge" aria-hidden="true">{count(n)}</span>
      <span class="unseen">, {t('looks.title', { n })}</span>
    </>
  )
}
