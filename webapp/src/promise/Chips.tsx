// Choices in one line that is drawn aside by a thumb, so that an ask stays on one screen.

import type { ComponentChildren } from 'preact'

export function Chips({ label, children }: { readonly label: string; readonly children: ComponentChildren }) {
  return (
    <fieldset class="field">
      <legend>{label}</legend>
      <div class="chips">{children}</div>
    </fieldset>
  )
}

export function Chip({ on, onTap, children }: { readonly on: boolean; readonly onTap: () => void; readonly children: ComponentChildren }) {
  return <button type="button" class="btn chip-btn" aria-pressed={on} onClick={onTap}>{children}</button>
}
