// The bad network between the phones and the shed: a proxy of bytes that cuts, delays, trickles, stalls
// and refuses as its chance has it, until it is healed.

import { type AddressInfo, connect, createServer, type Server, type Socket } from 'node:net'
import { pause } from './clock'
import type { Random } from './random'

/** What befalls one direction of one connection; counts are of bytes. */
interface Fate {
  /** Nothing passes beyond this. */
  readonly end: number
  /** How it ends there: the line breaks after so many ms of silence, or never. */
  readonly silence: number
  /** So many bytes come a few at a time, from there on. */
  readonly trickle: { readonly from: number; readonly to: number }
  /** Each piece is so many ms late, at most. */
  readonly delay: number
}

const harmless: Fate = { end: Infinity, silence: 0, trickle: { from: 0, to: 0 }, delay: 0 }
/** As a phone's first sync has, and more than most lines live to see. */
const longLine = 60_000
/** Longer than a phone waits for an answer before it takes the line for dead, which is a second here. */
const longSilence = 1_500

export class Wire {
  private readonly open = new Set<Socket>()
  private refusing = false
  private healed = false

  private constructor(
    private readonly server: Server,
    private readonly shed: () => number,
    private readonly random: Random,
  ) {
    server.on('connection', phone => this.join(phone))
  }

  /** Opens a wire on a port of its own to whatever port the shed has then. */
  static async to(shed: () => number, random: Random): Promise<Wire> {
    const wire = new Wire(createServer({ noDelay: true }), shed, random)
    await new Promise<void>(ready => wire.server.listen(0, '127.0.0.1', ready))
    return wire
  }

  get url(): string {
    return `ws://127.0.0.1:${(this.server.address() as AddressInfo).port}/sync`
  }

  /** Takes no connection for so many ms, and breaks those that stand. */
  async outage(ms: number): Promise<void> {
    this.refusing = true
    this.breakAll()
    await pause(ms)
    this.refusing = false
  }

  breakAll(): void {
    for (const socket of this.open) socket.resetAndDestroy()
  }

  /** New connections are good from now on; those that stand meet what was meant for them. */
  heal(): void {
    this.healed = true
    this.refusing = false
  }

  async close(): Promise<void> {
    this.breakAll()
    await new Promise(done => this.server.close(done))
  }

  private join(phone: Socket): void {
    if (this.refusing) return void phone.resetAndDestroy()
    const shed = connect({ port: this.shed(), host: '127.0.0.1', noDelay: true })
    for (const socket of [phone, shed]) {
      this.open.add(socket)
      socket.on('error', () => {}) // 'close' follows
      socket.on('close', () => {
        this.open.delete(socket)
        phone.destroy()
        shed.destroy()
      })
    }
    const [up, down] = [this.fate(), this.fate()]
    const cut = this.random.chance(0.5) ? () => phone.resetAndDestroy() : () => phone.destroy()
    new Pipe(phone, shed, up, this.random.fork(), cut)
    new Pipe(shed, phone, down, this.random.fork(), cut)
  }

  private fate(): Fate {
    const { random } = this
    if (this.healed || random.chance(0.3)) return harmless
    const from = random.magnitude(1, longLine)
    return {
      end: random.chance(0.7) ? random.magnitude(1, longLine) : Infinity,
      silence: random.chance(0.7) ? 0 : random.chance(0.8) ? random.between(1, longSilence) : Infinity,
      trickle: random.chance(0.3) ? { from, to: from + random.between(1, 300) } : harmless.trickle,
      delay: random.chance(0.3) ? random.between(1, 15) : 0,
    }
  }
}

/** One direction of a connection. */
class Pipe {
  private passed = 0
  private readonly pieces: Buffer[] = []
  private running = false

  constructor(
    from: Socket,
    private readonly to: Socket,
    private readonly fate: Fate,
    private readonly random: Random,
    private readonly cut: () => void,
  ) {
    from.on('data', (piece: Buffer) => {
      this.pieces.push(piece)
      if (!this.running) void this.run()
    })
  }

  private async run(): Promise<void> {
    this.running = true
    for (let piece = this.pieces.shift(); piece; piece = this.pieces.shift()) {
      if (this.fate.delay > 0) await pause(this.random.between(0, this.fate.delay))
      if (!(await this.pass(piece))) return // for good
    }
    this.running = false
  }

  /** Tells whether the line still stands. */
  private async pass(piece: Buffer): Promise<boolean> {
    for (let at = 0; at < piece.length; ) {
      const size = Math.min(this.nextSize(), piece.length - at, this.fate.end - this.passed)
      this.to.write(piece.subarray(at, at + size))
      at += size
      this.passed += size
      if (this.trickles) await pause(1)
      if (this.passed < this.fate.end) continue
      if (this.fate.silence === Infinity) return false // the phone must find out
      if (this.fate.silence > 0) await pause(this.fate.silence)
      this.cut()
      return false
    }
    return true
  }

  private get trickles(): boolean {
    return this.passed >= this.fate.trickle.from && this.passed < this.fate.trickle.to
  }

  private nextSize(): number {
    if (this.trickles) return this.random.between(1, 7)
    return this.passed < this.fate.trickle.from ? this.fate.trickle.from - this.passed : Infinity
  }
}
