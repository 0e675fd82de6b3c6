// Work counted, not timed: how many entries of maps and sets are read one after the other while something is done.

type Each = 'keys' | 'values' | 'entries' | 'forEach' | typeof Symbol.iterator

const walks: readonly Each[] = ['keys', 'values', 'entries', Symbol.iterator]

/** The entries that walks through maps and sets touch; looking one up by its key is no walk. */
export function entriesRead(work: () => void): number {
  let read = 0
  const restores = [Map.prototype, Set.prototype].flatMap((proto) => walks.map((name) => counting(proto as unknown as Record<Each, unknown>, name, () => { read++ })))
  try {
    work()
  } finally {
    for (const restore of restores.reverse()) restore()
  }
  return read
}

function counting(proto: Record<Each, unknown>, name: Each, each: () => void): () => void {
  const plain = proto[name] as (this: unknown) => IterableIterator<unknown>
  proto[name] = function* (this: unknown) {
    for (let walk = plain.call(this), one = walk.next(); !one.done; one = walk.next()) {
      each()
      yield one.value
    }
  }
  return () => { proto[name] = plain }
}
