// The way from a bed's page to its picture, with a small still of it.

import { useLayoutEffect, useMemo, useRef } from 'preact/hooks'
import type { Bed } from '../crop/nouns'
import { t } from '../messages/messages'
import { theme } from '../ui/device'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { pictureOf, pictureSeasons } from './bed_picture'
import './bed_picture.css'
import { inkOf } from './bed_picture_ink'
import { paint } from './bed_picture_paint'
import { pastOf } from './bed_picture_past'
import { sceneOf } from './bed_picture_scene'
import { sheetFor } from './bed_picture_sheet'
import { Sprites } from './bed_picture_sprites'
import { fitted } from './bed_picture_view'

export function BedPictureLink({ bed }: { readonly bed: Bed }) {
  const farm = useNotebook().farm.value
  const day = today.value
  const past = useMemo(() => pastOf(farm, bed, day), [farm, bed, day])
  const season = useMemo(() => pictureSeasons(past).at(-1), [past])
  const canvas = useRef<HTMLCanvasElement>(null)
  useLayoutEffect(() => {
    if (!canvas.current || season === undefined) return
    const { clientWidth: width, clientHeight: height } = canvas.current
    const [room, ratio] = [{ width, height }, devicePixelRatio || 1]
    canvas.current.width = Math.round(width * ratio)
    canvas.current.height = Math.round(height * ratio)
    const ctx = canvas.current.getContext('2d', { alpha: false })
    const sheet = sheetFor(past.ground, room, 0)
    if (ctx) paint(ctx, { scene: sceneOf(pictureOf(past, season), sheet), view: fitted(sheet, room), room, ratio, sprites: new Sprites(inkOf(canvas.current)), codes: false, budget: Infinity })
  }, [past, season, theme.value])
  if (season === undefined) return null
  return (
    <a class="picture-link" href={href('beds', 'picture', bed.id)}>
      <canvas ref={canvas} aria-hidden="true" />
      <span><b>{t('picture.link')}</b><span class="small block">{t('picture.link.text')}</span></span>
    </a>
  )
}
