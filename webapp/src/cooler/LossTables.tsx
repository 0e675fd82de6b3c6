// What was lost by bed, by plants' age and by how open the heads were: shares with what they stand on, and an honest word
// where that is little.

import { type Losses, type LossRow, saysLittle } from '../crop/losses'
import type { BedID, Farm } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { bedName } from '../ui/lot_words'
import { ageOfText, shareText, stageOfText } from './loss_words'

export function LossTables({ farm, lost }: { readonly farm: Farm; readonly lost: Losses }) {
  if (lost.whole.cut === 0 && lost.claims.length === 0) return null
  return (
    <>
      <Reasons lost={lost} />
      <p class="small">{t('losses.how')}</p>
      <LossTable name={t('losses.by_bed')} rows={lost.byBed} of={(bed) => bedName(farm, bed as BedID | '')} />
      <LossTable name={t('losses.by_age')} rows={lost.byAge} of={ageOfText} />
      {lost.byAge.some(({ of }) => of.includes('+')) && <p class="small">{t('losses.ages_several')}</p>}
      <LossTable name={t('losses.by_stage')} rows={lost.byStage} of={stageOfText} />
      {lost.claimedOfNoLot > 0 && <p class="small">{t('losses.no_lot', { n: lost.claimedOfNoLot })}</p>}
      <p class="note">{t('losses.honest')}</p>
    </>
  )
}

function Reasons({ lost: { shrunk, claims, whole } }: { readonly lost: Losses }) {
  return (
    <>
      {shrunk.length > 0 && (
        <table>
          <caption>{t('losses.shrunk')}</caption>
          <thead><tr><td /><th scope="col">{t('stems.head')}</th><th scope="col">{t('losses.of_cut')}</th></tr></thead>
          <tbody>
            {shrunk.map(({ reason, stems }) => <tr key={reason}><th scope="row">{t(`shrink.${reason}`)}</th><td>{count(stems)}</td><td>{shareText(stems, whole.cut)}</td></tr>)}
          </tbody>
        </table>
      )}
      {claims.length > 0 && (
        <table>
          <caption>{t('losses.claimed')}</caption>
          <thead><tr><td /><th scope="col">{t('stems.head')}</th><th scope="col">{t('losses.claims')}</th></tr></thead>
          <tbody>
            {claims.map(({ reason, stems, claims: n }) => <tr key={reason}><th scope="row">{t(`claim.reason.${reason}`)}</th><td>{count(stems)}</td><td>{count(n)}</td></tr>)}
          </tbody>
        </table>
      )}
    </>
  )
}

interface LossTableProps<Of extends string> {
  readonly name: string
  readonly rows: readonly LossRow<Of>[]
  readonly of: (of: Of) => string
}

function LossTable<Of extends string>({ name, rows, of }: LossTableProps<Of>) {
  if (rows.length === 0) return null
  return (
    <table class="losses">
      <caption>{name}</caption>
      <thead>
        <tr><td /><th scope="col">{t('losses.written_off')}</th><th scope="col">{t('losses.claimed_share')}</th></tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.of}>
            <th scope="row">{of(row.of)}{saysLittle(row) && <span class="small block">{t('losses.little', { n: row.lots })}</span>}</th>
            <td><b>{shareText(row.shrink, row.cut)}</b><span class="small block">{t('losses.base', { part: count(row.shrink), base: count(row.cut) })}</span></td>
            <td><b>{shareText(row.claimed, row.packed)}</b><span class="small block">{t('losses.base', { part: count(row.claimed), base: count(row.packed) })}</span></td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
