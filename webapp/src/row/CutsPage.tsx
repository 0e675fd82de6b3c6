// The cut list: what to cut this morning, bed by bed in the order of the walk, the biggest numbers first to the eye.

import type { BedID } from '../crop/nouns'
import type { CutList, CutRow } from '../crop/cut_list'
import { dayName, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { useWakeLock } from '../ui/wake'
import { failureText } from '../ui/words'
import { CutBed } from './CutBed'
import { CutChoices } from './cut_choices'
import { leftOf, mostAhead, todaysCuts } from './cut_today'
import { CutsOverdue } from './CutsOverdue'
import { shortText } from './cut_words'
import { Failure } from './LastAction'
import { MoreOrLess } from './MoreOrLess'
import './cuts.css'

export function CutsPage() {
  const notebook = useNotebook()
  const choices = CutChoices.of(notebook)
  const list = todaysCuts(notebook)
  const beds = [...new Set(list.rows.map(({ bed }) => bed))]
  const failure = choices.failure.value
  useWakeLock()
  return (
    <>
      <PageHead title={t('cuts.title')} back={href('row')}><SyncChip /></PageHead>
      <div class="page reading cuts">
        <Sum list={list} choices={choices} />
        {failure !== undefined && <Failure text={failureText(failure)} />}
        <CutsOverdue list={list} />
        <Shorts list={list} />
        {list.rows.length > 0 && <Care />}
        {beds.map((bed) => <CutBed key={bed} bed={bed} list={list} rows={of(list, bed)} choices={choices} />)}
        <Until list={list} choices={choices} />
        {list.rows.length > 0 && <Foot list={list} choices={choices} />}
      </div>
    </>
  )
}

function of({ rows }: CutList, bed: BedID): CutRow[] {
  return rows.filter((row) => row.bed === bed)
}

interface PartProps {
  readonly list: CutList
  readonly choices: CutChoices
}

function Sum({ list, choices }: PartProps) {
  const left = list.rows.reduce((sum, row) => sum + leftOf(choices, today.value, row), 0)
  const cut = list.rows.reduce((sum, row) => sum + row.cut, 0)
  const { due, cooler } = list.plan
  const until = dayName(list.plan.until, today.value)
  if (due === 0) return <p class="say">{t('cuts.nothing_due', { day: until })}</p>
  return (
    <div class="cuts-sum">
      <p><b>{left}</b> {t('cuts.to_cut', { n: left })}</p>
      {left === 0 && <p class="say">{list.rows.length > 0 ? t('cuts.all_cut') : cooler === due ? t('cuts.cooler.all') : ''}</p>}
      <p class="small">
        {[
          t('cuts.until', { day: until }),
          left > 0 ? t('cuts.buckets', { n: Math.ceil(left / choices.bucket) }) : '',
          cut > 0 ? t('cuts.cut', { n: cut }) : '',
          t('cuts.due', { n: due }),
          cooler > 0 ? t('cuts.cooler', { n: cooler }) : '',
        ].filter(Boolean).join(' · ')}
      </p>
    </div>
  )
}

function Until({ list, choices }: PartProps) {
  const most = mostAhead(useNotebook().farm.value.sales)
  const ahead = Math.min(choices.ahead, most)
  return (
    <MoreOrLess
      label={t('cuts.until', { day: dayName(list.plan.until, today.value) })} less={t('cuts.until.less')} more={t('cuts.until.more')}
      onLess={ahead > 0 ? () => choices.setAhead(ahead - 1) : undefined} onMore={ahead < most ? () => choices.setAhead(ahead + 1) : undefined}
    />
  )
}

function Shorts({ list }: Pick<PartProps, 'list'>) {
  const farm = useNotebook().farm.value
  const { short, giving } = list.plan
  if (short.length === 0) return null
  const unseen = giving.reduce((sum, { colour, plants }) => sum + (colour === '' ? plants : 0), 0)
  return (
    <div class="note warn">
      {short.map((lack) => <p key={lack.need.line}><Icon name="warn" /> {shortText(farm, lack, today.value)}</p>)}
      {unseen > 0 && <p>{t('cuts.short.unseen', { n: unseen })}</p>}
    </div>
  )
}

function Care() {
  return (
    <a class="note cuts-care" href={href('row', 'care')}>
      <Icon name="care" /><span>{t('cuts.care')}</span>
    </a>
  )
}

/** The largest and the smallest bucket that anybody would fill. */
const [leastBucket, mostBucket, step] = [10, 500, 10]

function Foot({ list, choices }: PartProps) {
  const { over } = list.plan
  const bucket = choices.bucket
  return (
    <>
      <div class="small cuts-foot">
        <p>{over > 0 ? t('cuts.over', { percent: over }) : t('cuts.over.none')}</p>
        {list.rows.every(({ known }) => !known) && <p>{t('cuts.unknown')}</p>}
        <p>{t('cuts.untold')}</p>
      </div>
      <MoreOrLess
        label={t('cuts.bucket', { n: bucket })} note={t('cuts.bucket.note')} less={t('cuts.bucket.less')} more={t('cuts.bucket.more')}
        onLess={bucket > leastBucket ? () => choices.setBucket(bucket - step) : undefined} onMore={bucket < mostBucket ? () => choices.setBucket(bucket + step) : undefined}
      />
    </>
  )
}
