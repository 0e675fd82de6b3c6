// A long row of marks in pieces, so that a tap that changes one mark has one piece drawn again and not all of a bed.

import { useRef } from 'preact/hooks'

/** Marks of one piece: few enough to draw in no time, and of 2,000 marks some 60 pieces to look at. */
export const inPiece = 32

/** Cuts marks into pieces; one whose marks are what they were is the very piece of before. */
export function piecesOf<T>(marks: readonly T[], before: readonly (readonly T[])[], same: (a: T, b: T) => boolean): readonly (readonly T[])[] {
  return Array.from({ length: Math.ceil(marks.length / inPiece) }, (_, i) => {
    const [from, to] = [i * inPiece, Math.min(marks.length, (i + 1) * inPiece)]
    const was = before[i]
    const stays = was?.length === to - from && was.every((mark, at) => same(mark, marks[from + at] as T))
    return stays ? was : marks.slice(from, to)
  })
}

/** The same from one drawing to the next. */
export function usePieces<T>(marks: readonly T[], same: (a: T, b: T) => boolean): readonly (readonly T[])[] {
  const last = useRef<readonly (readonly T[])[]>([])
  last.current = piecesOf(marks, last.current, same)
  return last.current
}
