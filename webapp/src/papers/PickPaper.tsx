// The pick list: which stems are taken out of which bucket, and for whom.

import type { Day } from '../crop/nouns'
import { count, dateName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { type Delivery, pickList } from './day_papers'
import { lotPlace, lotWhat } from './paper_words'
import { buyerNamed } from './papers_farm'

export function PickPaper({ deliveries, day }: { readonly deliveries: readonly Delivery[]; readonly day: Day }) {
  const farm = useNotebook().farm.value
  const buckets = pickList(deliveries)
  const stems = buckets.reduce((sum, bucket) => sum + bucket.stems, 0)
  return (
    <article class="sheet">
      <h2>{t('papers.pick.head', { day: dateName(day) })}</h2>
      <p>{t('papers.pick.sum', { stems: t('stems', { n: stems }), buckets: t('papers.buckets', { n: buckets.length }) })}</p>
      {buckets.length === 0 ? <p>{t('papers.pick.no_lots')}</p> : (
        <table>
          <thead><tr><th scope="col">{t('papers.bucket')}</th><th scope="col" class="n">{t('stems.head')}</th><th scope="col">{t('papers.for')}</th><th scope="col" class="tick">{t('papers.taken')}</th></tr></thead>
          <tbody>
            {buckets.map(({ lot, stems: n, to }) => (
              <tr key={`${lot.bed} ${lot.cut} ${lotWhat(farm, lot)}`}>
                <td><b>{lotPlace(farm, lot)}</b><br />{lotWhat(farm, lot)}</td>
                <td class="n big">{count(n)}</td>
                <td>{to.map(({ buyer, stems: some }) => <div key={buyer}>{t('papers.pick.to', { buyer: buyerNamed(farm, buyer), n: some })}</div>)}</td>
                <td class="tick"><span class="tick-box" /></td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </article>
  )
}
