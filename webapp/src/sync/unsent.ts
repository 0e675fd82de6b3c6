// The file of what the shed does not hold, to be kept safe: what is not known to be settled, and what
// it refused. The first line says whose it is and how to read the rest, which are canonical bytes, a
// line for each change, whole operations in the order they were framed. The shed reads it in
// (read_in.ts; internal/changelog/unsent.go), also twice, and after the phone itself has sent some of it.

import { identityOf } from '../log/identity'
import type { Book } from './book'
import { unsettled } from './settling'

export function unsentText(book: Book, device: string): string {
  const unsent = unsettled(book)
  const refused = [...book.own.refused()].filter(framed => !unsent.includes(framed))
  const { incarnation, seq } = book.pen
  const first = unsent[0]?.operation.first ?? seq + 1
  const header = {
    t: 'unsent', version: 1, farm: book.farm, device, incarnation,
    // Chain value before the first unsent change.
    before: book.own.hashAt(incarnation, first - 1),
    // The lines that are not known to be settled. Those after them belong to operations refused before.
    unsent: unsent.reduce((lines, { changes }) => lines + changes.length, 0),
    // Every change that the shed refused, by identity, and its reason (PROTOCOL.md, section 5).
    refused: Object.fromEntries(book.refused().map(({ change, code }) => [identityOf(change.incarnation, change.seq), code])),
  }
  const texts = [...unsent, ...refused].flatMap(({ operation }) => operation.texts)
  return `${[JSON.stringify(header), ...texts].join('\n')}\n`
}
