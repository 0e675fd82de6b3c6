// Today and the places that work: a bar at the bottom of a phone, at the side of a wide screen.

import { count, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { looksNow } from '../start/looks_now'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { ReadySign } from './ReadySign'

export const places = ['row', 'shed', 'beds', 'ahead', 'money'] as const
export type Place = (typeof places)[number]

export function Bar({ at }: { readonly at: Place | 'start' }) {
  const notebook = useNotebook()
  const may = useRights()
  const farm = notebook.farm.value
  const looks = looksNow(notebook)
  const shown = places.filter((place) => place !== 'money' || may.manage)
  return (
    <nav class="bar" aria-label={t('places')}>
      {farm.name !== '' && <a class="bar-farm" href={href('start')}>{farm.name}</a>}
      <ul>
        <li><a href={href('start')} aria-current={at === 'start' ? 'page' : undefined}><Icon name="start" />{t('place.start')}</a></li>
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
