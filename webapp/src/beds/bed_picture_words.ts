// What a bed's picture shows, in words.

import type { Farm, Season } from '../crop/nouns'
import { colourText } from '../measuring/words'
import { count, t } from '../messages/messages'
import { allOf, type Picture, type Stood } from './bed_picture'
import { tallyOf } from './bed_picture_measured'
import type { Stems } from './bed_picture_past'

/** How many stand, and how many are gone: in this season, or before and nothing in their place. */
export function tally(picture: Picture): { readonly standing: number; readonly gone: number } {
  const all = allOf(picture)
  const gone = all.filter((one) => one.gone).length
  return { standing: all.length - gone, gone: gone + picture.gaps.length + picture.gapsFar }
}

export function stemsSaid({ n, told }: Stems, season: Season): string {
  const year = String(season)
  if (told === 'nobody') return t('picture.stems.said.nobody', { year })
  return told === 'counted' ? t('picture.stems.said', { n, year }) : t('picture.stems.said.recorded', { n, year })
}

/** Its flags, and what else its mark says. */
export function marksSaid({ flags, seedling, gone, told }: Stood): string {
  const said = flags.map((kind) => t(`flag.${kind}`))
  if (told?.drift) said.unshift(t(`colours.mark.${told.drift}`))
  if (seedling) said.unshift(t('picture.seedling'))
  if (gone) said.push(t('picture.gone.season'))
  return said.join(', ')
}

/** Its class; in a picture of measured colours what was measured, or that an eye told it. */
export function colourSaid(farm: Farm, { colour, told }: Stood): string {
  if (told?.lab) return colourText(told.lab)
  const name = (colour === '' ? undefined : farm.colours.get(colour)?.name) ?? t('colour.unknown')
  return told?.by === 'eye' ? t('colours.class.eye', { name }) : name
}

/** The numbers of what was measured, and what is to be minded about it; '' of anything else. */
export function measuredSaid({ told }: Stood): string {
  if (!told?.lab) return ''
  const whole = (part: number) => count(Math.round(part) || 0)
  const { L, a, b } = told.lab
  const said = [t('measuring.lab', { l: whole(L), a: whole(a), b: whole(b) }).replaceAll('* ', '*\u00a0')]
  if (told.before !== undefined) said.unshift(t('picture.measured.in', { year: String(told.before) }))
  if (told.beyond) said.push(t('colours.beyond.one'))
  return said.join(' · ')
}

/** How the colours of a picture of measured ones are known. */
export function toldSaid(picture: Picture): string {
  const { photo, eye, nobody, beyond } = tallyOf(allOf(picture))
  const said = [t('picture.measured.told', { n: photo, eye, nobody })]
  if (beyond > 0) said.push(t('colours.beyond', { n: beyond }))
  return said.join(' ')
}
