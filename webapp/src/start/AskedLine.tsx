// One thing that today asks: its number in words, what it is of, and the way to its page.

import type { Farm } from '../crop/nouns'
import { dayName, listed, spanName, t } from '../messages/messages'
import { Icon, type IconName } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { Marked } from '../ui/Say'
import { taskTitle, taskWhere } from '../ui/task_words'
import { today } from '../ui/today'
import type { Asked, AskedKind } from './asked_today'

const icons: Readonly<Record<AskedKind, IconName>> = {
  cut: 'row', tasks: 'check', pack: 'list', asks: 'ahead', looks: 'warn', open: 'flag', unsent: 'up', not_kept: 'warn', backup: 'save',
}

export function AskedLine({ asked }: { readonly asked: Asked }) {
  const farm = useNotebook().farm.value
  const of = ofWhat(farm, asked)
  return (
    <a class="line asked" href={pageOf(asked)}>
      <Icon name={icons[asked.kind]} />
      <span>
        <Marked text={said(asked)} />
        {of !== '' && <span class="small block">{of}</span>}
      </span>
      <Icon name="on" />
    </a>
  )
}

function pageOf(asked: Asked): string {
  switch (asked.kind) {
    case 'cut': return href('row', 'cuts')
    case 'tasks': return href('ahead', 'tasks')
    case 'pack': return href('shed', 'packing', asked.day)
    case 'asks': return href('ahead', 'asks')
    case 'open': return href('row')
    case 'unsent':
    case 'not_kept': return href('shed', 'sync')
    case 'looks':
    case 'backup': return href('shed')
  }
}

function said(asked: Asked): string {
  switch (asked.kind) {
    case 'cut': return t('start.cut', { n: asked.stems })
    case 'tasks': return t('start.tasks', { n: asked.tasks.length })
    case 'pack': return t('start.pack', { n: asked.deliveries })
    case 'asks': return t('start.asks', { n: asked.n })
    case 'looks': return t('start.looks', { n: asked.n })
    case 'open': return t('start.open', { n: asked.plants })
    case 'unsent': return t('start.unsent', { n: asked.n })
    case 'not_kept': return t('start.not_kept', { n: asked.n })
    case 'backup': return asked.age === undefined ? t('start.backup.none') : t('start.backup', { time: spanName(asked.age) })
  }
}

/** So many are named; the others are told as a number. */
const named = 3

/** '' where the number says it all. */
function ofWhat(farm: Farm, asked: Asked): string {
  switch (asked.kind) {
    case 'cut': return withOthers(asked.beds.map(({ bed, stems }) => t('start.in_bed', { bed: farm.beds.get(bed)?.name ?? t('bed.unknown'), n: stems })))
    case 'tasks': return withOthers(asked.tasks.map((task) => [taskTitle(task), taskWhere(farm, task)].filter(Boolean).join(', ')))
    case 'pack': return `${t('start.bunches', { n: asked.bunches })}: ${listed(withRest(asked.buyers.map((name) => name || t('orders.buyer.unknown'))))}`
    case 'open': return t('start.open.where', { bed: farm.beds.get(asked.bed)?.name ?? t('bed.unknown'), day: dayName(asked.day, today.value) })
    case 'unsent': return t('start.unsent.what')
    case 'asks':
    case 'looks':
    case 'not_kept':
    case 'backup': return ''
  }
}

function withOthers(all: readonly string[]): string {
  return withRest(all).join(' · ')
}

function withRest(all: readonly string[]): string[] {
  if (all.length <= named) return [...all]
  return [...all.slice(0, named - 1), t('start.others', { n: all.length - named + 1 })]
}
