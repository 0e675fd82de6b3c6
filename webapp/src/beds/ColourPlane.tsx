// The stand's colours in one drawing: each plant in its own colour, its state told by its shape, drift as an arrow,
// classes as areas. A tap chooses the nearest plant.

import { useMemo } from 'preact/hooks'
import type { Lab } from '../colour/lab'
import { hexOf } from '../colour/shown'
import { limitOf } from '../crop/colour_class'
import type { Colour, PlantID } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { arrowOf, countOf } from './colour_sentence'
import type { ColourStand, StandPlant } from './colour_stand'
import { closed, edgeOf, nearestTo, plane, planeScale, type PlaneScale, type Point, uncertainOf, type View } from './colour_plane'
import { Mark, type MarkShape, shapeOf } from './ColourMark'

interface ColourPlaneProps {
  readonly stand: ColourStand
  readonly classes: readonly Colour[]
  readonly view: View
  readonly chosen: StandPlant | undefined
  readonly onChoose: (plant: PlantID | undefined) => void
}

/** Pixels of the drawing within which a tap finds a plant. */
const fingertip = 30

export function ColourPlane({ stand, classes, view, chosen, onChoose }: ColourPlaneProps) {
  const areas = useMemo(() => areasOf(view, classes), [view, classes])
  const all = useMemo(() => [...stand.plants, ...stand.references].sort((a, b) => weight(a) - weight(b)), [stand])
  const scale = useMemo(() => planeScale(view, [...areas.flatMap(({ edge }) => edge), ...all.flatMap((one) => reachOf(one))]), [view, areas, all])
  const choose = (event: MouseEvent & { readonly currentTarget: SVGSVGElement }) => {
    const box = event.currentTarget.getBoundingClientRect()
    const per = plane.width / box.width
    const to = { x: (event.clientX - box.left) * per, y: (event.clientY - box.top) * per }
    onChoose(nearestTo(all, ({ colour }) => scale.at(colour.lab), to, fingertip)?.plant.id)
  }
  return (
    <svg class="colour-plane" viewBox={`0 0 ${plane.width} ${plane.height}`} role="img" aria-label={t(`colours.chart.${view}`)} onClick={choose}>
      <Axes scale={scale} />
      {areas.map((area) => <path key={area.colour.id} class="class-area" d={closed(area.edge.map((lab) => scale.at(lab)))} />)}
      {all.map((one) => <PlantMark key={one.plant.id} one={one} scale={scale} />)}
      {areas.map((area) => <AreaName key={area.colour.id} area={area} scale={scale} />)}
      {all.filter(({ state }) => state === 'drift' || state === 'watch').map((one) => <Arrow key={one.plant.id} one={one} scale={scale} />)}
      {chosen && <Chosen one={chosen} scale={scale} />}
    </svg>
  )
}

interface Area {
  readonly colour: Colour
  readonly edge: readonly Lab[]
}

function areasOf(view: View, classes: readonly Colour[]): Area[] {
  return classes.flatMap((colour) => (colour.lab ? [{ colour, edge: edgeOf(view, colour.lab, limitOf(colour)) }] : []))
}

/** What must not be hidden is drawn last. */
function weight({ state, plant }: StandPlant): number {
  return plant.reference ? 1 : state === 'drift' ? 3 : state === 'watch' ? 2 : 0
}

function reachOf(one: StandPlant): Lab[] {
  const arrow = one.state === 'drift' || one.state === 'watch' ? arrowOf(one) : undefined
  return arrow ? [arrow.from, arrow.to] : [one.colour.lab]
}

/** The four ends in words, the greys where they are in sight, and how long ten units are. */
function Axes({ scale }: { readonly scale: PlaneScale }) {
  const grey = scale.of({ x: 0, y: 0 })
  const inside = ({ x, y }: Point) => ({ across: y > plane.margin && y < plane.height - plane.margin, up: x > plane.margin && x < plane.width - plane.margin })
  const { across, up } = inside(grey)
  const ends = scale.view === 'hue'
    ? [t('colours.axis.greener'), t('colours.axis.redder'), t('colours.axis.bluer'), t('colours.axis.yellower')] as const
    : [t('colours.axis.paler'), t('colours.axis.deeper'), t('colours.axis.darker'), t('colours.axis.lighter')] as const
  const [middle, centre] = [plane.height / 2, plane.width / 2]
  const ten = 10 * scale.unit
  return (
    <g class="plane-axes">
      <rect class="plane-ground" x={plane.margin} y={plane.margin} width={plane.width - 2 * plane.margin} height={plane.height - 2 * plane.margin} rx="8" />
      {scale.view === 'hue' && across && <line class="axis" x1={plane.margin} x2={plane.width - plane.margin} y1={grey.y} y2={grey.y} />}
      {up && <line class="axis" x1={grey.x} x2={grey.x} y1={plane.margin} y2={plane.height - plane.margin} />}
      <text x="0" y="0" text-anchor="middle" transform={`translate(16 ${middle}) rotate(-90)`}>{`← ${ends[0]}`}</text>
      <text x="0" y="0" text-anchor="middle" transform={`translate(${plane.width - 8} ${middle}) rotate(-90)`}>{`${ends[1]} →`}</text>
      <text x={centre} y={plane.height - 8} text-anchor="middle">{`↓ ${ends[2]}`}</text>
      <text x={centre} y="17" text-anchor="middle">{`↑ ${ends[3]}`}</text>
      <path class="plane-rule" d={`M${plane.margin + 10} ${plane.height - plane.margin - 14}v6h${ten.toFixed(1)}v-6`} />
      <text x={plane.margin + 16 + ten} y={plane.height - plane.margin - 6}>{t('colours.chart.ten')}</text>
    </g>
  )
}

function AreaName({ area, scale }: { readonly area: Area; readonly scale: PlaneScale }) {
  const top = area.edge.map((lab) => scale.at(lab)).reduce((best, one) => (one.y < best.y ? one : best))
  const x = Math.min(plane.width - 60, Math.max(60, top.x))
  return <text class="class-name" x={x} y={Math.max(plane.margin + 14, top.y - 4)} text-anchor="middle">{area.colour.name}</text>
}

function PlantMark({ one, scale }: { readonly one: StandPlant; readonly scale: PlaneScale }) {
  const { x, y } = scale.at(one.colour.lab)
  return <Mark shape={shapeOf(one)} x={x} y={y} fill={hexOf(one.colour.lab)} title={t('colours.chart.plant', { code: one.plant.code, state: t(`colours.mark.${shapeOf(one)}`) })} />
}

/** From where it would be, had it changed as the rest did, to where it is. */
function Arrow({ one, scale }: { readonly one: StandPlant; readonly scale: PlaneScale }) {
  const arrow = arrowOf(one)
  if (!arrow) return null
  const [from, to] = [scale.at(arrow.from), scale.at(arrow.to)]
  const long = Math.hypot(to.x - from.x, to.y - from.y)
  if (long < shortest) return null
  const [dx, dy] = [(to.x - from.x) / long, (to.y - from.y) / long]
  const tip = { x: to.x - dx * markRoom, y: to.y - dy * markRoom }
  const wing = (side: number) => `L${(tip.x - 7 * dx + side * 4.5 * dy).toFixed(1)} ${(tip.y - 7 * dy - side * 4.5 * dx).toFixed(1)}`
  const line = `M${from.x.toFixed(1)} ${from.y.toFixed(1)}L${tip.x.toFixed(1)} ${tip.y.toFixed(1)}`
  return <g class="drift-arrow"><path class="halo" d={line} /><path d={line} /><path class="head" d={`M${tip.x.toFixed(1)} ${tip.y.toFixed(1)}${wing(1)}${wing(-1)}Z`} /></g>
}

/** Of an arrow that has room for its head. */
const shortest = 16
const markRoom = 10

function Chosen({ one, scale }: { readonly one: StandPlant; readonly scale: PlaneScale }) {
  const { x, y } = scale.at(one.colour.lab)
  const edge = uncertainOf(scale.view, one.colour).map((place) => scale.of(place))
  return <g class="plane-chosen"><path class="uncertain" d={closed(edge)} /><circle cx={x} cy={y} r="14" /></g>
}

export function PlaneLegend({ stand }: { readonly stand: ColourStand }) {
  const shapes: readonly (readonly [MarkShape, number])[] = [
    ['none', countOf(stand.plants, 'none')], ['drift', countOf(stand.plants, 'drift')], ['watch', countOf(stand.plants, 'watch')],
    ['cannot_tell', countOf(stand.plants, 'cannot_tell')], ['first', countOf(stand.plants, 'first')], ['reference', stand.references.length],
  ]
  return (
    <ul class="legend small">
      {shapes.filter(([, n]) => n > 0).map(([shape, n]) => (
        <li key={shape}>
          <svg width="22" height="22" aria-hidden="true"><Mark shape={shape} x={11} y={11} fill="var(--card)" /></svg>
          {t(`colours.mark.${shape}`)} <b>{count(n)}</b>
        </li>
      ))}
    </ul>
  )
}
