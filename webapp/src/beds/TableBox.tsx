// A table under its caption, which stays put while the table scrolls sideways.

import type { ComponentChildren } from 'preact'

export function TableBox({ caption, children }: { readonly caption: string; readonly children: ComponentChildren }) {
  return (
    <section class="table-box">
      <p class="small">{caption}</p>
      <div class="scroll" tabIndex={0} role="region" aria-label={caption}><table>{children}</table></div>
    </section>
  )
}
