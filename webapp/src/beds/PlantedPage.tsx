// What was just planted, what comes next, and taking it back.

import { useState } from 'preact/hooks'
import type { Farm, Plant } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { inWalkOrder } from '../crop/walk_order'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { go, href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { CountSome } from './CountSome'
import { type PlantedLately, plantedLately, undoable, undoPlanted } from './lately'
import './tray.css'

export function PlantedPage() {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const planted = plantedLately(notebook, farm)
  const may = useRights()
  return (
    <>
      <PageHead title={t('planted.title')} back={href('beds')} />
      <div class="page reading">
        {planted && may.manage ? <Planted farm={farm} planted={planted} /> : <p class="say">{t('planted.none')}</p>}
      </div>
    </>
  )
}

function Planted({ farm, planted }: { readonly farm: Farm; readonly planted: PlantedLately }) {
  const planting = farm.plantings.get(planted.planting)
  const bed = planting && farm.beds.get(planting.bed)
  const plants = inWalkOrder([...farm.plants.values()].filter((plant) => plant.planting === planted.planting))
  if (!planting || !bed) return <p class="say">{t('planted.none')}</p>
  const now = seasonOf(farm.calendar, today.value)
  const stock = farm.stocks.get(planting.stock)?.name ?? t('stock.unknown')
  return (
    <>
      <Say text={t('planted.say', { n: plants.length, stock, bed: bed.name })} />
      <p>{codesText(plants)} {t('planted.season', { year: String(planting.firstSeason) })}</p>
      {/* What is not in its first season yet is counted from that on. */}
      <CountSome bed={bed} plants={plants} season={planting.firstSeason > now ? planting.firstSeason : now} />
      <div class="buttons">
        <a class="btn tall" href={href('beds', 'tags', bed.id)}>{t('planted.tags')}</a>
        <a class="btn tall" href={href('beds', 'bed', bed.id)}>{t('planted.bed')}</a>
        <a class="btn tall" href={href('beds', 'tray', bed.id)}>{t('planted.more')}</a>
      </div>
      <Undo planted={planted} undo={undoable(farm, planted, today.value)} />
    </>
  )
}

function codesText(plants: readonly Plant[]): string {
  const [first, last] = [plants[0], plants.at(-1)]
  if (!first || !last) return ''
  return first === last ? t('planted.code', { code: first.code }) : t('planted.codes', { from: first.code, to: last.code })
}

function Undo({ planted, undo }: { readonly planted: PlantedLately; readonly undo: boolean }) {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const takeBack = async () => {
    try {
      await undoPlanted(notebook, planted)
    } catch (reason) {
      return setProblem(failureText(reason))
    }
    announce(t('planted.undone', { n: planted.plants }))
    go('beds')
  }
  if (!undo) return null
  return (
    <>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="note undoable">
        <p>{t('planted.undo', { n: planted.plants })}</p>
        <button type="button" class="btn" onClick={() => void takeBack()}>{t('undo')}</button>
      </div>
    </>
  )
}
