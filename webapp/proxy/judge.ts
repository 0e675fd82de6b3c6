// What must be true of a seed once everything is healed.

import type { Change } from '../src/log/change'
import { dump } from '../src/log/dump'
import { State } from '../src/log/state'
import { lastSeq } from '../src/sync/own_log'
import type { Phone } from './phone'
import type { Worker } from './work'

/** How much of one difference, and of one phone, is worth printing. */
const linesShown = 6
const wrongsShown = 20

/** What is wrong with the phones, beside one that read everything from the start over a good line. */
export function wrongsOf(workers: readonly Worker[], fresh: Phone): string[] {
  const whole = fresh.dump()
  const ofEach = workers.flatMap(worker => {
    const { phone, ledger } = worker
    const found = [
      ...phone.wrongs,
      ...difference('the phone', phone.dump(), 'a fresh phone', whole),
      ...ledger.wrongs(phone.book.pen.incarnation, (type, id) => fresh.book.entity(type, id)),
      ...ownLogWrongs(worker),
    ]
    return found.slice(0, wrongsShown).map(wrong => `${phone.name}: ${wrong}`)
  })
  const phones = workers.map(({ phone }) => phone)
  return [...ofEach, ...difference('what was acknowledged', acknowledged(phones), 'the shed', writtenBy(phones, whole))]
}

/** What the phones' own changes come to under the orders that they were told. */
function acknowledged(phones: readonly Phone[]): string {
  const state = new State()
  for (const { operation, changes } of phones.flatMap(({ book }) => [...book.own])) {
    changes.forEach((change, i) => {
      const order = operation.orders[i]
      if (order) state.merge(change, order)
    })
  }
  return dump(state)
}

/** The lines of a dump that are of these phones, and not of an earlier seed's. */
function writtenBy(phones: readonly Phone[], whole: string): string {
  const incarnations = phones.map(({ book }) => `"${book.pen.incarnation}"`)
  return whole.split('\n').filter(line => incarnations.some(one => line.includes(one))).join('\n')
}

/** Everything framed is there, once, under one incarnation, and settled in one way. */
function ownLogWrongs({ phone: { book }, ledger }: Worker): string[] {
  const { pen } = book
  const wrongs = pen.formers.length > 0 ? [`it took ${pen.formers.length} new incarnations on a shed that lost nothing`] : []
  let seq = 0
  const refused = new Map<string, string>()
  for (const { operation, changes } of book.own) {
    if (operation.first !== seq + 1) wrongs.push(`its own log goes on at ${operation.first} after ${seq}`)
    seq = lastSeq(operation)
    for (const { seq: no, code } of operation.refused) refused.set(changes[no - operation.first]!.id, code)
    changes.forEach((change, i) => wrongs.push(...fateWrongs(change, operation.orders[i] != null, operation)))
  }
  if (seq !== pen.seq) wrongs.push(`its own log ends at ${seq}, its pen at ${pen.seq}`)
  for (const [visit, seen] of ledger.refused) {
    if (seen === 'stored' && !refused.has(visit)) wrongs.push(`visit ${visit} should have been refused and was not`)
    refused.delete(visit)
  }
  for (const [id, code] of refused) wrongs.push(`${id} was refused: ${code}`)
  return wrongs
}

function fateWrongs({ seq }: Change, kept: boolean, operation: { refused: readonly { seq: number }[]; held?: readonly number[] }): string[] {
  const refused = operation.refused.some(r => r.seq === seq)
  if (operation.held?.includes(seq)) return [`its change ${seq} is said to be held under another identity`]
  return kept === refused ? [`its change ${seq} is ${kept ? 'both kept and refused' : 'neither kept nor refused'}`] : []
}

function difference(name: string, a: string, other: string, b: string): string[] {
  if (a === b) return []
  const [left, right] = [new Set(a.split('\n')), new Set(b.split('\n'))]
  const only = (of: Set<string>, not: Set<string>) => [...of].filter(line => !not.has(line))
  const [here, there] = [only(left, right), only(right, left)]
  return [
    `${name} has ${here.length} lines that ${other} has not, which has ${there.length} others`,
    ...here.slice(0, linesShown).map(line => `  - ${line}`),
    ...there.slice(0, linesShown).map(line => `  + ${line}`),
  ]
}
