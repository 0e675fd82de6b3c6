// The reply to an ask, ready to be pasted into a message: plain words, no more than a buyer needs.

import type { Farm } from '../crop/nouns'
import type { Asked, Help } from '../forecast/asking'
import { dayName, t } from '../messages/messages'
import { coloursText, qualityText } from '../ui/sale_words'
import { sellerName } from '../ui/seller'
import { today } from '../ui/today'
import type { Day } from '../crop/nouns'
import { helpText } from './ask_words'

export interface Replying {
  readonly asked: Asked
  readonly day: Day
  /** That can be had safely, or were promised. */
  readonly stems: number
  readonly promised: boolean
  /** What else would help, the best first. */
  readonly helps: readonly Help[]
}

export function replyText(farm: Farm, { asked, day, stems, promised, helps }: Replying): string {
  const what = whatText(farm, asked)
  const on = dayName(day, today.value)
  const first = stems === 0 ? t('promise.reply.none', { what, day: on }) : t(promised ? 'promise.reply.promised' : 'promise.reply.offer', { stems: t('stems', { n: stems }), what, day: on })
  const best = helps[0]
  const short = stems > 0 && stems < asked.stems ? [t('promise.reply.short', { n: asked.stems })] : []
  const more = best && stems < asked.stems && !promised ? [helpText(farm, best).replaceAll('**', '')] : []
  return [first, ...short, ...more, sellerName(farm)].filter((line) => line !== '').join('\n')
}

/** "ember or coral, first, 50 cm" */
export function whatText(farm: Farm, asked: Pick<Asked, 'colours' | 'grade' | 'length'>): string {
  return [coloursText(farm, asked.colours), qualityText(farm, asked)].filter((part) => part !== '').join(', ')
}
