// Stems that were asked for and not promised, by week and colours.

import type { Farm } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { coloursText } from '../ui/sale_words'
import { weekShort } from './ask_words'
import type { Unmet } from '../crop/unmet'

export function UnmetTable({ farm, unmet }: { readonly farm: Farm; readonly unmet: readonly Unmet[] }) {
  return (
    <section>
      <h2>{t('asks.unmet')}</h2>
      <p class="small">{t('asks.unmet.say')}</p>
      <table>
        <thead><tr><th scope="col">{t('asks.unmet.week')}</th><th scope="col">{t('promise.colours')}</th><th scope="col">{t('promise.stems')}</th></tr></thead>
        <tbody>
          {unmet.map(({ week, colours, stems }, i) => (
            <tr key={`${week} ${colours.join()}`}>
              <td>{unmet[i - 1]?.week === week ? '' : weekShort(week)}</td><td>{coloursText(farm, colours)}</td><td>{count(stems)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
