// The colours and the type that a bed's picture is drawn in, from the custom properties of the theme in use.

export interface Ink {
  readonly card: string
  readonly paper: string
  readonly ink: string
  readonly ink2: string
  readonly line: string
  readonly line2: string
  readonly leaf: string
  /** As a canvas takes it: the least size of text at this device's text size. */
  readonly font: string
  readonly fontSize: number
}

/** Reads them off an element, whose font size is the least that text has. */
export function inkOf(element: Element): Ink {
  const style = getComputedStyle(element)
  const of = (name: string) => style.getPropertyValue(name).trim()
  return {
    card: of('--card'), paper: of('--paper'), ink: of('--ink'), ink2: of('--ink-2'), line: of('--line'), line2: of('--line-2'), leaf: of('--leaf'),
    font: `600 ${style.fontSize} ${style.fontFamily}`, fontSize: Number.parseFloat(style.fontSize),
  }
}
