// A table under its caption.

import type { ComponentChildren, CSSProperties } from 'preact'

interface TableBoxProps {
  readonly caption: string
  /**
   * Columns beside the first that stay side by side on a phone. Those of class `under` go to a second line of
   * their row there, each led by its `data-head`. Roles are told in words in such a table, since some
   * browsers take a row that is laid out otherwise for no row.
   */
  readonly beside?: number | undefined
  readonly children: ComponentChildren
}

export function TableBox({ caption, beside, children }: TableBoxProps) {
  const folds = beside === undefined ? {} : { class: 'folds', role: 'table' as const, style: { '--beside': beside } as CSSProperties }
  return (
    <section class="table-box">
      <p class="small">{caption}</p>
      <div class="scroll" tabIndex={0} role="region" aria-label={caption}><table {...folds}>{children}</table></div>
    </section>
  )
}
