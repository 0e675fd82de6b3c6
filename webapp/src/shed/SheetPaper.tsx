// What is printed of a walk sheet, for a pencil: it stands on no screen.

import type { Bed, Day, Plant } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { dateName, dayAndMonth, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { ReentryWarning } from '../ui/ReentryWarning'
import { colourName } from '../ui/words'

interface SheetPaperProps {
  readonly bed: Bed
  readonly plants: readonly Plant[]
  readonly day: Day
  /** Days for which there is room; those behind the first are written in by hand. */
  readonly columns: number
}

export function SheetPaper({ bed, plants, day, columns }: SheetPaperProps) {
  const farm = useNotebook().farm.value
  const season = seasonOf(farm.calendar, day)
  const days = Array.from({ length: columns }, (_, i) => i)
  const someUncounted = plants.some((plant) => !plant.counted.has(season))
  return (
    <div class="sheet-paper">
      <ReentryWarning bed={bed.id} />
      <table style={{ '--days': columns }}>
        <thead>
          <tr><th class="sheet-name" colSpan={3 + columns}>{farm.name && `${farm.name} · `}{bed.name} · {dateName(day)}</th></tr>
          <tr><th class="sheet-who" colSpan={3 + columns}>{t('sheet.paper.who')}</th></tr>
          <tr>
            <th scope="col">{t('sheet.paper.place')}</th>
            <th scope="col">{t('sheet.paper.plant')}</th>
            <th scope="col">{t('sheet.paper.colour')}</th>
            {days.map((i) => <th key={i} scope="col" class="sheet-box">{i === 0 ? dayAndMonth(day) : ''}</th>)}
          </tr>
        </thead>
        <tbody>
          {plants.map((plant) => (
            <tr key={plant.id}>
              <td class="sheet-place">{plant.line === 0 ? '' : t('place', { line: plant.line, number: plant.number })}</td>
              <td class="sheet-code">{plant.code}{someUncounted && plant.counted.has(season) ? ' *' : ''}</td>
              <td>{plant.colour === '' ? '' : colourName(farm, plant)}</td>
              {days.map((i) => <td key={i} class="sheet-box" />)}
            </tr>
          ))}
        </tbody>
      </table>
      <p>{t('sheet.paper.how')}{someUncounted && ` ${t('sheet.paper.star')}`}</p>
      <p>{t('sheet.paper.care')}</p>
    </div>
  )
}
