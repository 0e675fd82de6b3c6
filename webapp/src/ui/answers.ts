// Answers to questions that can be taken back: of three cuts on one day one may be taken away while two
// still ask, so a question can have several, and each keeps its undo.

export interface Given<T> {
  /** What was asked. */
  readonly key: string
  readonly answer: T
}

/** With one more, the newest first. */
export function withAnswer<T>(given: readonly Given<T>[], key: string, answer: T): readonly Given<T>[] {
  return [{ key, answer }, ...given]
}

/** Without one that was undone. */
export function withoutAnswer<T>(given: readonly Given<T>[], answer: T): readonly Given<T>[] {
  return given.filter((one) => one.answer !== answer)
}

/** The answers to one question. */
export function answersTo<T>(given: readonly Given<T>[], key: string): readonly T[] {
  return given.flatMap((one) => (one.key === key ? [one.answer] : []))
}
