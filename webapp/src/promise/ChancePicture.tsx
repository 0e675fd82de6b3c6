// How the chance falls with the number of stems: every number's chance, with nine in ten and what was asked marked.

import { chanceOf, nineInTen, safeAt, type Told } from '../forecast/asking'
import { sureInHundred } from '../forecast/forecast_words'
import { count, t } from '../messages/messages'

interface ChancePictureProps {
  readonly told: Told
  /** 0 while no number is asked. */
  readonly asked: number
}

const [width, height, left, bottom, top] = [328, 132, 34, 22, 8]

export function ChancePicture({ told, asked }: ChancePictureProps) {
  const { most } = told
  const widest = Math.max(most.at(-1) ?? 0, asked, 1)
  const x = (stems: number) => left + (stems / widest) * (width - left - 10)
  const y = (chance: number) => top + (1 - chance) * (height - top - bottom)
  const safe = safeAt(told, nineInTen)
  const said = t('promise.picture', { safe: count(safe), half: count(safeAt(told, 0.5)), most: count(most.at(-1) ?? 0) })
  return (
    <figure class="ask-picture">
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={said}>
        {[0, 0.5, 1].map((chance) => (
          <g key={chance}>
            <line class="axis" x1={left} x2={width} y1={y(chance)} y2={y(chance)} />
            <text x={left - 6} y={y(chance) + 5} text-anchor="end">{sureInHundred(chance)}</text>
          </g>
        ))}
        <path class="ask-odds" d={area(most, x, y)} />
        <line class="reference" x1={left} x2={x(safe)} y1={y(nineInTen)} y2={y(nineInTen)} />
        <line class="reference" x1={x(safe)} x2={x(safe)} y1={y(nineInTen)} y2={y(0)} />
        {asked > 0 && <line class="ask-asked" x1={x(asked)} x2={x(asked)} y1={y(0)} y2={y(chanceOf(told, asked))} />}
        {asked > 0 && <circle class="mean" r="5.5" cx={x(asked)} cy={y(chanceOf(told, asked))} />}
        <text x={left} y={height - 4}>0</text>
        <text x={width} y={height - 4} text-anchor="end">{t('stems', { n: widest })}</text>
      </svg>
      <figcaption class="small">{said}</figcaption>
    </figure>
  )
}

/** Stems to the right, upwards in how many of a hundred futures there are as many. */
function area(most: Int32Array, x: (stems: number) => number, y: (chance: number) => number): string {
  const steps = 60
  const points = Array.from({ length: steps + 1 }, (_, i) => {
    const at = Math.min(most.length - 1, Math.round((i / steps) * (most.length - 1)))
    return `L${x(most[at] ?? 0).toFixed(1)} ${y(1 - i / steps).toFixed(1)}`
  })
  return `M${x(0)} ${y(0)}L${x(0)} ${y(1)}${points.join('')}Z`
}
