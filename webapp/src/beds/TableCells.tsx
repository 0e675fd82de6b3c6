// The cells of a table that folds on a phone (see TableBox).

import type { ComponentChildren } from 'preact'

interface HeadProps {
  /** Its cells go to the second line of their rows, where each says its own head. */
  readonly under?: boolean | undefined
  /** Of the cells that are drawn on a line. */
  readonly line?: boolean | undefined
  readonly children?: ComponentChildren
}

export function Head({ under, line, children }: HeadProps) {
  return <th scope="col" role="columnheader" class={classOf(under === true, line)}>{children}</th>
}

interface CellProps {
  /** The head of a cell that goes to the second line. */
  readonly under?: string | undefined
  readonly line?: boolean | undefined
  readonly children?: ComponentChildren
}

export function Cell({ under, line, children }: CellProps) {
  return <td role="cell" class={classOf(under !== undefined, line)} data-head={under}>{children}</td>
}

function classOf(under: boolean, line: boolean | undefined): string | undefined {
  return under ? 'under' : line === true ? 'line-cell' : undefined
}
