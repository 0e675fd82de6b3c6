// The picture itself on its canvas, and the buttons that move it.

import { useLayoutEffect, useRef } from 'preact/hooks'
import type { PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { announce } from '../ui/announce'
import type { Picture } from './bed_picture'
import type { Ground } from './bed_picture_ground'
import { type Laid, Stage } from './bed_picture_stage'

interface BedPictureStageProps {
  readonly picture: Picture
  readonly ground: Ground
  readonly chosen: PlantID | ''
  /** What a screen reader says of it. */
  readonly name: string
  readonly onChoose: (plant: PlantID | '') => void
  readonly onLaid: (laid: Laid) => void
}

export function BedPictureStage({ picture, ground, chosen, name, onChoose, onLaid }: BedPictureStageProps) {
  const farm = useNotebook().farm
  const canvas = useRef<HTMLCanvasElement>(null)
  const stage = useRef<Stage | undefined>(undefined)
  useLayoutEffect(() => {
    if (!canvas.current) return
    const opened = new Stage(canvas.current, (plant) => {
      onChoose(plant)
      if (plant !== '') announce(farm.peek().plants.get(plant)?.code ?? '')
    }, onLaid)
    stage.current = opened
    return () => opened.close()
  }, [])
  useLayoutEffect(() => stage.current?.show({ picture, ground, chosen }), [picture, ground, chosen])
  return (
    <>
      <div class="picture-stage">
        {/* A picture that is moved by keys: its words are in its name, and in the list. */}
        <canvas ref={canvas} tabIndex={0} role="img" aria-label={`${name} ${t('picture.keys')}`} />
      </div>
      <div class="picture-buttons">
        <button type="button" class="btn" aria-label={t('picture.zoom_in')} onClick={() => stage.current?.zoomIn()}><Icon name="nearer" /></button>
        <button type="button" class="btn" aria-label={t('picture.zoom_out')} onClick={() => stage.current?.zoomOut()}><Icon name="farther" /></button>
        <button type="button" class="btn" aria-label={t('picture.fit')} onClick={() => stage.current?.fit()}><Icon name="whole" /></button>
        <button type="button" class="btn print" onClick={() => print()}><Icon name="print" />{t('picture.print')}</button>
      </div>
    </>
  )
}
