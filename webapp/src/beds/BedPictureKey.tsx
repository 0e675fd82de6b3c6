// The key of a bed's picture: how large so many stems are, and what each mark that is used means.

import type { ComponentChildren } from 'preact'
import { t } from '../messages/messages'
import { blossomPath } from '../ui/florets'
import { HeadShape } from '../ui/Head'
import { lengthMeasured } from '../ui/lengths'
import { allOf, type Picture, type Stood } from './bed_picture'
import type { BedPast } from './bed_picture_past'
import { drawnAlike, radiusOfStems, sampleStems } from './bed_picture_size'
import { shapeOf } from './bed_picture_sprites'

interface BedPictureKeyProps {
  readonly past: BedPast
  /** Of all seasons, so that the key stays as it is while one slides through them. */
  readonly pictures: readonly Picture[]
  /** Pixels to a millimetre of the whole bed, and its pieces. */
  readonly scale: number
  readonly pieces: number
}

export function BedPictureKey({ past, pictures, scale, pieces }: BedPictureKeyProps) {
  const { ground, bed, farm } = past
  const all = pictures.flatMap(allOf)
  const far = new Set(pictures.flatMap((picture) => picture.far.map(({ plant }) => plant.id))).size
  const measures = { length: lengthMeasured(bed.length, farm.unit), width: lengthMeasured(bed.width, farm.unit) }
  const samples = sampleStems(past)
  const largest = radiusOfStems(past, samples.at(-1) ?? 0) * scale
  // Where the whole bed's heads are specks, those of the key are not.
  const times = scale > 0 ? Math.max(1, Math.ceil(leastSample / largest)) : 1
  const said = [
    ground.measured ? t('picture.scale', measures) : t('picture.unmeasured'),
    ...(far > 0 ? [t('far.plants', { n: far })] : []),
    ...(pieces > 1 ? [t('picture.strips', { n: pieces })] : []),
    t('picture.edges'), t('picture.key.alike', { n: drawnAlike(past) }),
    ...(times > 1 ? [t('picture.key.times', { n: times })] : []),
  ]
  return (
    <section class="picture-key" aria-label={t('picture.key')}>
      <ul class="small">
        {samples.map((n) => <Sample key={n} n={n} r={Math.max(1, radiusOfStems(past, n) * scale * times)} swatch={swatchIn(all)} />)}
        {marks.filter(({ used }) => used(all, pictures)).map(({ key, drawn }) => <li key={key}><Mark>{drawn}</Mark>{t(`picture.key.${key}`)}</li>)}
      </ul>
      <p class="small">{said.join(' ')}</p>
    </section>
  )
}

/** Pixels of the largest sample's radius at least. */
const leastSample = 10

/** The colour of most of what is drawn would say more than it means: the first there is. */
function swatchIn(all: readonly Stood[]): string {
  return all.find(({ swatch }) => swatch !== '')?.swatch ?? ''
}

function Sample({ n, r, swatch }: { readonly n: number; readonly r: number; readonly swatch: string }) {
  const side = 2 * Math.ceil(r + 1)
  return (
    <li>
      <svg width={side} height={side} aria-hidden="true"><HeadShape swatch={swatch} x={side / 2} y={side / 2} r={r} /></svg>
      {t('picture.key.size', { n })}
    </li>
  )
}

function Mark({ children }: { readonly children: ComponentChildren }) {
  return <svg class="key-mark" width="28" height="28" viewBox="-14 -14 28 28" aria-hidden="true">{children}</svg>
}

interface KeyMark {
  readonly key: 'plain' | 'bare' | 'eye' | 'hollow' | 'drift' | 'watch' | 'seedling' | 'gone' | 'gap' | 'mother' | 'off' | 'flag'
  readonly drawn: ComponentChildren
  readonly used: (all: readonly Stood[], pictures: readonly Picture[]) => boolean
}

const small = <circle class="body" r="5" />

const marks: readonly KeyMark[] = [
  { key: 'plain', drawn: <><path class="body petals" d={blossomPath(8)} /><circle class="eye" r="2" /></>, used: (all) => all.some((one) => shapeOf(one) === 'plain') },
  { key: 'bare', drawn: <><circle class="body" r="4" /><path class="strong" d="M-9 0H9" /></>, used: (all) => all.some((one) => shapeOf(one) === 'bare') },
  { key: 'eye', drawn: <><circle class="body" r="9" /><circle class="opening" r="4" /></>, used: (all) => all.some(({ told }) => told?.by === 'eye') },
  { key: 'hollow', drawn: <circle class="empty" r="7" />, used: (all) => all.some(({ swatch }) => swatch === '') },
  { key: 'seedling', drawn: <path class="body sown" d="M0-8L8 0L0 8L-8 0z" />, used: (all) => all.some(({ seedling }) => seedling) },
  { key: 'gone', drawn: <><circle class="body faint" r="9" /><circle class="dot" r="3" /></>, used: (all) => all.some(({ gone }) => gone) },
  { key: 'gap', drawn: <circle class="gap" r="3" />, used: (_, pictures) => pictures.some(({ gaps }) => gaps.length > 0) },
  { key: 'drift', drawn: <path class="badge" d="M0-7L6.600 5.200H-6.600z" />, used: (all) => all.some(({ told }) => told?.drift === 'drift') },
  { key: 'watch', drawn: <path class="badge open" d="M0-7L6.600 5.200H-6.600z" />, used: (all) => all.some(({ told }) => told?.drift === 'watch') },
  { key: 'mother', drawn: <>{small}<circle class="ring" r="10" /></>, used: (all) => all.some(({ flags }) => flags.includes('mother')) },
  { key: 'off', drawn: <>{small}<circle class="ring dashed" r="10" /></>, used: (all) => all.some(({ flags }) => flags.includes('colour_off')) },
  {
    key: 'flag', drawn: <>{small}<path class="ring" d="M4-4V-13" /><path class="dot" d="M4-13l7 2.500-7 2.500z" /></>,
    used: (all) => all.some(({ flags }) => flags.some((kind) => kind !== 'mother' && kind !== 'colour_off')),
  },
]
