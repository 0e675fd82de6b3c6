// The photo that was taken, with the outlines of card and head. A tap on the head, or a stroke over it, says where it is.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { Point } from '../colourcard/measurement'
import { t } from '../messages/messages'
import { pathOf } from './outline_path'
import type { Taken } from './taken'

interface HeadPhotoProps {
  readonly taken: Taken
  readonly onTouch: (points: readonly Point[]) => void
}

/** Points of a stroke nearer to the last than this part of the picture's width say nothing new. */
const apart = 0.01

export function HeadPhoto({ taken: { picture, width, height, measurement }, onTouch }: HeadPhotoProps) {
  const url = useAddress(picture)
  const { stroke, ...touching } = useStroke(width, height, onTouch)
  return (
    <div class="head-photo" style={{ '--across': width, '--down': height }}>
      {url && <img src={url} alt="" decoding="async" />}
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={t('measuring.photo')} {...touching}>
        {measurement.card && <Outline kind="card" points={measurement.card.corners} />}
        {measurement.head && <Outline kind="head" points={measurement.head.outline} />}
        {stroke.length > 1 && <path class="stroke" d={pathOf(stroke, false)} />}
      </svg>
    </div>
  )
}

function Outline({ kind, points }: { readonly kind: 'card' | 'head'; readonly points: readonly Point[] }) {
  const path = pathOf(points)
  return <g class={kind}><path class="edge" d={path} /><path class="line" d={path} /></g>
}

/** Collects where a finger goes until it is lifted. */
function useStroke(width: number, height: number, onTouch: (points: readonly Point[]) => void) {
  const [stroke, setStroke] = useState<readonly Point[]>([])
  const points = useRef<Point[]>([])
  const at = ({ currentTarget, clientX, clientY }: PointerEvent): Point => {
    const box = (currentTarget as Element).getBoundingClientRect()
    return { x: ((clientX - box.left) / box.width) * width, y: ((clientY - box.top) / box.height) * height }
  }
  const show = () => setStroke([...points.current])
  return {
    stroke,
    onPointerDown: (event: PointerEvent) => {
      ;(event.currentTarget as Element).setPointerCapture(event.pointerId)
      points.current = [at(event)]
      show()
    },
    onPointerMove: (event: PointerEvent) => {
      const last = points.current.at(-1)
      const now = at(event)
      if (!last || Math.hypot(now.x - last.x, now.y - last.y) < apart * width) return
      points.current.push(now)
      show()
    },
    onPointerUp: () => {
      const touched = points.current.filter(({ x, y }) => x >= 0 && y >= 0 && x < width && y < height)
      points.current = []
      show()
      if (touched.length > 0) onTouch(touched)
    },
    onPointerCancel: () => {
      points.current = []
      show()
    },
  }
}

function useAddress(picture: Blob): string | undefined {
  const [url, setUrl] = useState<string | undefined>(undefined)
  useEffect(() => {
    const made = URL.createObjectURL(picture)
    setUrl(made)
    return () => URL.revokeObjectURL(made)
  }, [picture])
  return url
}
