// One lot traced both ways: from which bed, plants and hands it came, and to whom its stems went.

import type { ComponentChildren } from 'preact'
import { lotNamed } from '../crop/cooler'
import { behindLot, claimsOfLot, shrinkOfLot } from '../crop/lot_trace'
import type { Farm, PersonID } from '../crop/nouns'
import type { LotID } from '../crop/sale_nouns'
import { count, dayName, listed, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { bedName, inTens, lotName, lotSwatch } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { ClaimRow } from './ClaimRow'
import { LotPlants } from './LotPlants'
import { LotWent } from './LotWent'
import { agesText, stageText } from './loss_words'
import { ShrinkRow } from './ShrinkRow'
import { WriteOff } from './WriteOff'

export function LotPage({ cell, lot: id }: { readonly cell: string; readonly lot: LotID }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const doing = useUndoable()
  const claiming = useUndoable()
  const lot = lotNamed(farm, cell, today.value)
  const behind = behindLot(farm, id)
  const shrink = shrinkOfLot(farm, cell)
  const claims = claimsOfLot(farm, cell)
  return (
    <div class="cooler">
      <PageHead title={lotName(farm, id)} back={href('shed', 'cooler')} />
      <div class="page">
        <div class="columns">
          <div>
            <div class="lot-top">
              <Head swatch={lotSwatch(farm, id)} size={56} />
              {lot
                ? <Say text={lot.left < 0 ? t('lot.over', { n: -lot.left }) : t('lot.say', { left: count(lot.left), came: count(lot.came), tens: inTens(lot.left) })} />
                : <Say text={t('lot.nothing')} />}
            </div>
            {lot && lot.left > 0 && <p>{lot.daysLeft < 0 ? t('life.past', { n: -lot.daysLeft }) : lot.daysLeft === 0 ? t('life.last') : t('life.left', { n: lot.daysLeft })}</p>}
            {lot && lot.left < 0 && <p class="note warn">{t('cooler.over', { n: 1 })} <a href={href('shed')}>{t('cooler.over.where')}</a></p>}
            <h2>{t('lot.from')}</h2>
            <dl class="facts">
              <Fact name={t('lot.cut')}>{dayName(id.cut, today.value)}</Fact>
              <Fact name={t('lot.bed')}>{id.bed !== '' && farm.beds.has(id.bed) ? <a href={href('beds', 'bed', id.bed)}>{bedName(farm, id.bed)}</a> : bedName(farm, id.bed)}</Fact>
              <Fact name={t('lot.stage')}>{stageText(behind.stages, behind.stageUntold)}</Fact>
              <Fact name={t('lot.age')}>{agesText(behind.ages)}</Fact>
              <Fact name={t('lot.cut_by')}>{names(farm, behind.cutBy)}</Fact>
              <Fact name={t('lot.bench_by')}>{names(farm, behind.benchBy)}</Fact>
            </dl>
            <LotPlants farm={farm} behind={behind} lot={id} />
          </div>
          <div>
            <LotWent farm={farm} cell={cell} />
            <UndoNote {...claiming} />
            {claims.length > 0 && <h2>{t('lot.claims')}</h2>}
            <ul class="rows">{claims.map((claim) => <ClaimRow key={claim.id} claim={claim} doing={claiming} />)}</ul>
            <h2>{t('lot.shrink')}</h2>
            <UndoNote {...doing} />
            {shrink.length === 0 && <p class="small">{t('lot.shrink.none')}</p>}
            <ul class="rows">{shrink.map((one) => <ShrinkRow key={one.id} shrink={one} />)}</ul>
            {may.record && lot && lot.left > 0 && <div class="card"><WriteOff lot={lot} doing={doing} /></div>}
          </div>
        </div>
      </div>
    </div>
  )
}

function Fact({ name, children }: { readonly name: string; readonly children: ComponentChildren }) {
  return <><dt>{name}</dt><dd>{children}</dd></>
}

function names(farm: Farm, people: readonly PersonID[]): string {
  const known = people.flatMap((id) => farm.people.get(id)?.name ?? [])
  return known.length === 0 ? t('lot.nobody') : listed(known)
}
