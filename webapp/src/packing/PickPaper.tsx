// The pick list of the plan as it is carried into the cooler: what to take out of each bucket, and for whom.

import type { Day } from '../crop/nouns'
import { lotCell } from '../crop/lots'
import { count, dateName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { Paper } from '../ui/Paper'
import { buyerWritten, lotName, lotWhence } from '../ui/lot_words'
import type { PickList } from './pick_list'

interface PickPaperProps {
  readonly day: Day
  readonly list: PickList
  /** Of when the plan is; '' where there is none. */
  readonly planned: string
  /** That the day changed since; '' where it did not. */
  readonly since: string
}

export function PickPaper({ day, list: { lots, short }, planned, since }: PickPaperProps) {
  const farm = useNotebook().farm.value
  const stems = lots.reduce((sum, one) => sum + one.stems, 0)
  return (
    <Paper onPaper>
      <article class="sheet">
        <h2>{t('packing.pick.head', { day: dateName(day) })}</h2>
        <p>{[t('packing.pick.sum', { stems: t('packing.stems', { n: stems }), buckets: t('packing.pick.buckets', { n: lots.length }) }), planned].filter(Boolean).join(' ')}</p>
        {since !== '' && <p><b>{since}</b></p>}
        <table>
          <thead>
            <tr>
              <th scope="col">{t('packing.pick.bucket')}</th><th scope="col" class="n">{t('packing.pick.take')}</th>
              <th scope="col">{t('packing.pick.whom')}</th><th scope="col" class="tick">{t('packing.pick.taken')}</th>
            </tr>
          </thead>
          <tbody>
            {lots.map(({ lot, stems: n, for: buyers }) => (
              <tr key={lotCell(lot.id)}>
                <td><b>{lotWhence(farm, lot.id)}</b><br />{lotName(farm, lot.id)}</td>
                <td class="n"><b class="pick-n">{count(n)}</b><br />{t('packing.pick.of', { n: lot.left })}</td>
                <td>{[...buyers].map(([buyer, some]) => <div key={buyer}>{t('packing.pick.to', { buyer: buyerWritten(farm, buyer), n: some })}</div>)}</td>
                <td class="tick"><span class="tick-box" /></td>
              </tr>
            ))}
          </tbody>
        </table>
        {[...short].map(([why, n]) => <p key={why}><b>{t(`packing.pick.short.${why}`, { n })}</b></p>)}
        <p>{t('packing.care')}</p>
      </article>
    </Paper>
  )
}
