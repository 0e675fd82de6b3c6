// How people grade: everybody's for an owner, and their own for who graded.

import { mayManage, type Member } from '../crop/member'
import { count, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { Marked } from '../ui/Say'
import type { Grader, Interval, Note } from './ages_report'
import { inHundred, noteText } from './ages_sentence'
import { IntervalTable } from './IntervalTable'

/**
 * Those whom this device's person may see. The shed sends no others; but what the device kept may be from
 * when its person was an owner.
 */
export function gradersFor(member: Member | undefined, graders: readonly Grader[]): readonly Grader[] {
  return mayManage(member) ? graders : graders.filter((one) => one.person === member?.person)
}

interface AgesGradersProps {
  readonly graders: readonly Grader[]
  readonly apart: readonly Note[]
  readonly hundred: number
}

export function AgesGraders({ graders, apart, hundred }: AgesGradersProps) {
  const notebook = useNotebook()
  const nameOf = (grader: Grader) => notebook.farm.value.people.get(grader.person)?.name ?? t('ages.graders.unnamed')
  const rows = graders.map((one) => ({ key: one.person, name: nameOf(one), interval: shares(one), more: [count(one.stems)] }))
  const apartFrom = graders.filter((one) => one.lo > 0 || one.hi < 0)
  return (
    <>
      {apartFrom.length === 0 && <p>{t('ages.graders.same')}</p>}
      {apartFrom.map((one) => (
        <p key={one.person}><Marked text={t(one.lo > 0 ? 'ages.graders.kinder' : 'ages.graders.stricter', { name: nameOf(one) })} /></p>
      ))}
      <IntervalTable
        caption={t('ages.graders.caption', { hundred })} nameHead={t('ages.graders.who')} valueHead={t('ages.graders.better')}
        moreHeads={[t('ages.graders.stems')]} groups={[{ rows }]} line={{ from: 0, to: 1 }} mark={0.5} shown={inHundred}
      />
      <p class="small">{t('ages.graders.careful')}</p>
      {apart.map((note) => <p class="note warn" key={note.text}>{noteText(note)}</p>)}
      {!mayManage(notebook.member.value) && <p class="small">{t('ages.graders.own')}</p>}
    </>
  )
}

/** Of stems that the middle grader splits evenly, the share put into the better grade. */
function shares({ mean, lo, hi }: Interval): Interval {
  const share = (logit: number) => 1 / (1 + Math.exp(-logit))
  return { mean: share(mean), lo: share(lo), hi: share(hi) }
}
