// A part of Ages that is folded away until it is asked for, and stays as it was left on this device.

import type { ComponentChildren } from 'preact'
import { useNotebook } from '../ui/notebook'
import { Marked } from '../ui/Say'
import { agesSettings, setOpen } from './ages_settings'

interface AgesSectionProps {
  readonly name: string
  readonly title: string
  /** The section in one short line, readable while it is folded. */
  readonly hint?: string | undefined
  readonly children: ComponentChildren
}

export function AgesSection({ name, title, hint, children }: AgesSectionProps) {
  const notebook = useNotebook()
  const open = agesSettings.value.open.includes(name)
  return (
    <details class="ages-section" open={open} onToggle={(event) => void setOpen(notebook, name, event.currentTarget.open)}>
      <summary>
        <h2>{title}</h2>
        {hint !== undefined && <p class="small"><Marked text={hint} /></p>}
      </summary>
      {open && <div class="ages-inside">{children}</div>}
    </details>
  )
}
