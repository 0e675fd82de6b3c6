// A bed's picture in words, line by line: the table that belongs to the drawing, and what a screen reader gets.
// Its blocks are laid out only where they are seen; roles are told in words, since some browsers take a row
// that is laid out otherwise for no row.

import { useEffect, useMemo, useState } from 'preact/hooks'
import type { PlantID } from '../crop/nouns'
import { count, t, words } from '../messages/messages'
import type { Picture, Stood } from './bed_picture'
import { type Block, blocksOf, linesOf, renewed, tooFar, unknownPlace } from './bed_picture_blocks'
import type { BedPast, Stems } from './bed_picture_past'
import { colourSaid, marksSaid, measuredSaid } from './bed_picture_words'

interface BedPictureListProps {
  readonly past: BedPast
  readonly picture: Picture
  readonly chosen: PlantID | ''
  readonly onChoose: (plant: PlantID | '') => void
}

/** The drawing follows the slider at once; the list when the slider rests. */
const restsAfter = 120
/** Of most rows, for blocks that were not laid out yet. */
const rowHeight = 52

export function BedPictureList({ past, picture, chosen, onChoose }: BedPictureListProps) {
  const lines = linesOf(useBlocks(picture))
  return (
    <section class="picture-list" aria-label={t('picture.list')}>
      <h2>{t('picture.list')}</h2>
      <p class="small">{t('picture.list.plus')}</p>
      {lines.map(([line, blocks]) => {
        const plants = blocks.reduce((n, { stood }) => n + stood.length, 0)
        return (
          <div class="picture-line" key={line}>
            <h3>{line === unknownPlace ? t('picture.unplaced') : line === tooFar ? t('picture.far') : t('picture.line', { line })} <span class="small">{t('plants', { n: plants })}</span></h3>
            <table role="table">
              <thead role="rowgroup">
                <tr role="row">
                  <th role="columnheader" scope="col">{t('picture.head.code')}</th><th role="columnheader" scope="col">{t('picture.head.place')}</th>
                  <th role="columnheader" scope="col">{t('picture.head.colour')}</th><th role="columnheader" scope="col">{t('stems.head')}</th>
                </tr>
              </thead>
              {blocks.map((block) => (
                <Rows key={block.key} past={past} block={block} chosen={block.stood.some(({ plant }) => plant.id === chosen) ? chosen : ''} onChoose={onChoose} />
              ))}
            </table>
          </div>
        )
      })}
    </section>
  )
}

interface RowsProps {
  readonly past: BedPast
  readonly block: Block
  readonly chosen: PlantID | ''
  readonly onChoose: (plant: PlantID | '') => void
}

function Rows({ past, block, chosen, onChoose }: RowsProps) {
  return useMemo(() => (
    <tbody role="rowgroup" style={{ containIntrinsicHeight: `auto ${block.stood.length * rowHeight}px` }}>
      {block.stood.map((one) => <Row key={one.plant.id} past={past} one={one} pressed={one.plant.id === chosen} onChoose={onChoose} />)}
    </tbody>
  ), [past, block, chosen, words.value])
}

interface RowProps {
  readonly past: BedPast
  readonly one: Stood
  readonly pressed: boolean
  readonly onChoose: (plant: PlantID | '') => void
}

function Row({ past, one, pressed, onChoose }: RowProps) {
  const { plant, place, stems } = one
  const marks = marksSaid(one)
  const measured = measuredSaid(one)
  return (
    <tr role="row" class={pressed ? 'at' : ''}>
      <th role="rowheader" scope="row">
        <button type="button" aria-pressed={pressed} onClick={() => onChoose(pressed ? '' : plant.id)}>{plant.code}</button>
        {marks !== '' && <span class="small block">{marks}</span>}
      </th>
      <td role="cell">{!place ? '–' : place.number > past.ground.numbers ? t('place', place) : count(place.number)}</td>
      <td role="cell">{colourSaid(past.farm, one)}{measured !== '' && <span class="small block">{measured}</span>}</td>
      <td role="cell"><StemsCell stems={stems} /></td>
    </tr>
  )
}

function StemsCell({ stems: { n, told } }: { readonly stems: Stems }) {
  if (told === 'counted') return count(n)
  if (told === 'nobody') return <><span aria-hidden="true">–</span><span class="unseen">{t('picture.stems.nobody')}</span></>
  return <><span aria-hidden="true">{count(n)}+</span><span class="unseen">{t('picture.stems.recorded', { n })}</span></>
}

/** The blocks of a picture, those that differ taken over one after the other. */
function useBlocks(picture: Picture): readonly Block[] {
  const now = useMemo(() => blocksOf(picture), [picture])
  const [shown, setShown] = useState<readonly Block[]>([])
  useEffect(() => {
    const before = shown
    let upTo = 0
    const step = () => {
      upTo++
      setShown(renewed(before, now, upTo))
      timer = upTo < now.length ? setTimeout(step, pause) : 0
    }
    let timer = setTimeout(step, before.length === 0 ? 0 : restsAfter)
    return () => clearTimeout(timer)
  }, [now])
  return shown
}

/** Between two blocks, so that frames come between. */
const pause = 16
