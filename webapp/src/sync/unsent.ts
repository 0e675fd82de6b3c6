// The file of what is not known to be settled, which the shed can read in: a line that says whose it
// is, then a line of canonical bytes for each change.

import type { Book } from './book'
import { unsettled } from './settling'

export function unsentText(book: Book, device: string): string {
  const operations = unsettled(book)
  const { incarnation } = book.pen
  const before = book.own.hashAt(incarnation, (operations[0]?.operation.first ?? book.pen.seq + 1) - 1)
  const header = { t: 'unsent', version: 1, farm: book.farm, device, incarnation, before }
  const lines = [JSON.stringify(header), ...operations.flatMap(({ operation }) => operation.texts)]
  return `${lines.join('\n')}\n`
}
