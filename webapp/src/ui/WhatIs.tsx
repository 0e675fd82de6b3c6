// A term explained where the question arises: a small "?" beside it, and below it a sentence or two that open and close in
// place. Nothing lies over the page, so that no tap waits for it.

import type { ComponentChildren } from 'preact'
import { useId, useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { href } from './route'
import './what-is.css'

/** Every term that is explained, in the order in which one meets them. */
export const terms = [
  'counted', 'nothing', 'to_order', 'bench', 'grades', 'flush', 'ages', 'range', 'counting', 'drift', 'card', 'safe', 'ask', 'division', 'commission',
  'floor', 'lot', 'looks', 'sent', 'protected',
] as const

export type Term = (typeof terms)[number]

interface WhatIsProps {
  readonly of: Term
  /** What it is asked of, a heading as a rule; without it the question stands in words. */
  readonly children?: ComponentChildren
}

export function WhatIs({ of, children }: WhatIsProps) {
  const [open, setOpen] = useState(false)
  const id = useId()
  const term = t(`help.term.${of}`)
  const isMark = children !== undefined
  return (
    <div class="what-is">
      <div class="what-is-head">
        {children}
        <button
          type="button" class={isMark ? 'what-is-mark' : 'what-is-words'} aria-label={isMark ? t('help.ask', { term }) : undefined} aria-expanded={open}
          aria-controls={open ? id : undefined} onClick={() => setOpen(!open)} onKeyDown={(event) => { if (event.key === 'Escape') setOpen(false) }}
        >
          {isMark ? '?' : t('help.ask', { term })}
        </button>
      </div>
      {open && <p id={id} class="note">{t(`help.what.${of}`)} <a href={href('start', 'words')}>{t('help.all')}</a></p>}
    </div>
  )
}
