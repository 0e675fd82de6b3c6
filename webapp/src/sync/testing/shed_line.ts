// One conversation with the model of a shed. What it says is collected in `said` until the wire takes
// it.

import { packAlone, Packer } from '../../log/batch_pack'
import { Unpacker } from '../../log/batch_unpack'
import { ByteWriter } from '../../log/bytes'
import { canonical } from '../../log/canonical'
import type { Change, Stamp } from '../../log/change'
import { identityOf } from '../../log/identity'
import type { ShedModel } from './shed_model'

/** Changes of a frame of news; of much that is left, an eighth. */
const newsFrame = 3
/** A part of a large operation, but for the last, has at least so many changes. */
const leastPart = 1000

export class ShedLine {
  readonly said: (string | Uint8Array)[] = []
  private incarnation = ''
  private told = 0
  private wantsNews = false
  private open = true
  private readonly pushes = new Unpacker()
  private readonly news = new Packer()

  constructor(
    private readonly shed: ShedModel,
    private readonly onCut: () => void,
  ) {
    shed.lines.add(this)
  }

  cut(): void {
    this.open = false
    this.shed.lines.delete(this)
    this.onCut()
  }

  hear(data: string | Uint8Array): void {
    if (!this.open) return
    if (typeof data !== 'string') return this.push(data)
    const message = JSON.parse(data) as Record<string, unknown>
    if (message['t'] === 'hello') this.welcome(message)
    if (message['t'] === 'ping') this.say({ t: 'pong', clock: this.shed.wall })
  }

  /** An owner withdraws the device. */
  withdraw(): void {
    this.refuse('withdrawn')
  }

  private say(message: unknown): void {
    this.said.push(JSON.stringify(message))
  }

  private refuse(code: string): void {
    this.say({ t: 'refuse', code, text: code })
    this.shed.lines.delete(this)
    this.open = false
  }

  private welcome(hello: Record<string, unknown>): void {
    const { shed } = this
    shed.hellos++
    if (!(hello['versions'] as number[]).some(v => shed.versions.includes(v))) return this.refuse('version')
    if (shed.busy) return this.refuse('busy')
    if (shed.barred) return this.refuse(shed.barred)
    if (hello['farm'] !== shed.farm) return this.refuse('farm')
    this.incarnation = hello['incarnation'] as string
    this.wantsNews = hello['news'] as boolean
    const cursor = hello['cursor'] as { epoch: string; arrival: number; last: string; own?: string } | null
    const resume = cursor !== null && cursor.epoch === shed.epoch && this.lastAt(cursor.arrival) === cursor.last
      && shed.wasHere(cursor.own ?? '')
    this.told = resume ? cursor.arrival : 0
    const aside = shed.aside.get(this.incarnation) ?? []
    const settled = hello['settled'] as number
    const told = Math.min(shed.pastOf(this.incarnation).length, settled + shed.mostTold)
    this.say({
      t: 'welcome', version: 1, farm: shed.farm, epoch: shed.epoch, scopes: ['field', 'shed'], clock: shed.wall,
      seq: shed.pastOf(this.incarnation).length, hash: shed.hashOf(this.incarnation),
      staged: aside.at(-1)?.seq ?? 0, staged_hash: aside.length > 0 ? shed.hashOf(this.incarnation, aside) : '',
      told, ...shed.outcome(this.incarnation, settled, told), arrival: shed.kept.length, life: shed.life, ...(shed.backedUp > 0 && { backed_up: shed.backedUp }), resume, later: 'unknown',
    })
    this.say({ t: 'of a later version' })
    this.tellNews(true)
  }

  /** Tells what is backed up now; who comes later is told in the welcome. */
  tellBackup(): void {
    if (this.incarnation !== '') this.say({ t: 'backup', arrival: this.shed.backedUp })
  }

  private lastAt(arrival: number): string {
    const change = this.shed.kept[arrival - 1]?.change
    return change ? identityOf(change.incarnation, change.seq) : arrival === 0 ? '' : 'nothing'
  }

  /** What this line has not been told, in order; its own changes only while it catches up. */
  tellNews(catchUp = false): void {
    const { kept } = this.shed
    while (this.wantsNews && this.told < kept.length) {
      const frame = kept.slice(this.told, this.told + Math.max(newsFrame, (kept.length - this.told) >> 3))
      const shown = frame.filter(({ change }) => catchUp || change.incarnation !== this.incarnation)
      this.told += frame.length
      const batch = { changes: shown.map(({ change }) => change), orders: shown.map(({ order }) => order) }
      const packed = catchUp ? this.news.pack(batch) : packAlone(batch)
      this.said.push(newsMessage(this.told, kept.length, this.lastAt(this.told), shown.length > 0 ? [packed] : []))
    }
  }

  private push(data: Uint8Array): void {
    const { shed } = this
    const { changes, orders = changes.map(() => null) } = this.pushes.read(data.subarray(1))
    shed.pushes.push(changes.length)
    const past = shed.pastOf(this.incarnation)
    const before = past.length
    if (shed.busyForPushes) return this.refuse('busy')
    if (changes.some(c => c.seq <= before && canonical(past[c.seq - 1]!.change) !== canonical(c))) return this.refuse('reused')
    const fresh = changes.filter(c => c.seq > before)
    const aside = this.asideBefore(changes[0]!.seq)
    if (fresh.length > 0 && fresh[0]!.seq !== before + aside.length + 1) return this.refuse('gap')
    const untold = orders.slice(changes.length - fresh.length)
    const unfinished = fresh.at(-1)
    if (unfinished && unfinished.rest > 0) return this.putAside(aside, fresh)
    shed.aside.delete(this.incarnation)
    this.take([...aside, ...fresh], [...aside.map(() => null), ...untold])
    this.say({
      t: 'ack', seq: past.length, arrival: shed.kept.length,
      ...shed.outcome(this.incarnation, Math.min(before, changes[0]!.seq - 1)),
    })
    for (const line of shed.lines) line.tellNews()
  }

  /** What was put aside right before the seq; anything else is dropped. */
  private asideBefore(seq: number): Change[] {
    const aside = this.shed.aside.get(this.incarnation) ?? []
    return aside.at(-1)?.seq === seq - 1 ? aside : []
  }

  private putAside(aside: readonly Change[], part: readonly Change[]): void {
    if (part.length < leastPart) return this.refuse('split')
    const all = [...aside, ...part]
    this.shed.aside.set(this.incarnation, all)
    this.say({ t: 'ack', seq: this.shed.pastOf(this.incarnation).length, staged: all.at(-1)!.seq })
  }

  private take(changes: readonly Change[], orders: readonly (Stamp | null)[]): void {
    let first = 0
    changes.forEach((change, i) => {
      if (change.rest > 0) return
      this.shed.operation(changes.slice(first, i + 1), orders.slice(first, i + 1))
      first = i + 1
    })
  }
}

export function newsMessage(arrival: number, newest: number, last: string, batches: readonly Uint8Array[]): Uint8Array {
  const w = new ByteWriter()
  w.byte(2)
  w.uvarint(arrival)
  w.uvarint(newest)
  w.uvarint(last.length)
  w.raw(new TextEncoder().encode(last))
  w.uvarint(batches.length)
  for (const batch of batches) {
    w.uvarint(batch.length)
    w.raw(batch)
  }
  return w.finish()
}
