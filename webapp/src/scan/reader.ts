// What reads the codes in pictures, and which of several codes is meant.

export interface Reader {
  /** The codes in a picture; none is an answer, too. Uses the picture up. Rejects where nothing can be read here. */
  read(picture: ImageData): Promise<readonly Seen[]>
  close(): void
}

/** A code and the pixel in its middle. */
export interface Seen {
  readonly text: string
  readonly x: number
  readonly y: number
}

/** The code nearest the picture's middle: two tags may be in sight, and one is aimed at. */
export function aimedAt(seen: readonly Seen[], { width, height }: { readonly width: number; readonly height: number }): string | undefined {
  const away = ({ x, y }: Seen) => Math.hypot(x - width / 2, y - height / 2)
  return seen.toSorted((a, b) => away(a) - away(b))[0]?.text
}
