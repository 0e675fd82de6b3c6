// Drives the session over a websocket: carries out its effects, brings it what happens.

import type { Keeper } from './keeper'
import type { Session } from './session'
import type { Effect, Moment, SessionEvent } from './events'

/** What a websocket and a clock are here; tests bring their own. */
export interface Surroundings {
  socket(url: string): WebSocket
  moment(): Moment
}

export const browserSurroundings: Surroundings = {
  socket: url => new WebSocket(url),
  moment: () => ({ now: performance.now(), wall: Date.now() }),
}

export class Line {
  private socket: WebSocket | undefined
  private timer: ReturnType<typeof setTimeout> | undefined
  private closed = false

  constructor(
    private readonly session: Session,
    private readonly keeper: Keeper,
    private readonly url: string,
    private readonly surroundings: Surroundings,
    private readonly onChange: () => void,
    private readonly onStoreFailed: (reason: unknown) => void,
  ) {}

  /** Tells the session; what it wants done is done in turn. */
  tell(event: SessionEvent, from?: WebSocket): void {
    void this.keeper.inTurn(async () => {
      if (this.closed || (from && from !== this.socket)) return
      await this.attempt(event)
      this.schedule()
      this.onChange()
    })
  }

  /** Whatever goes wrong in here must not end the sync in silence: it begins anew, on a new line. */
  private async attempt(event: SessionEvent): Promise<void> {
    try {
      await this.run(event)
    } catch (reason) {
      console.error(`syncing, at '${event.kind}'; the line is dropped and tried again`, reason)
      this.hangUp()
      await this.run({ kind: 'failed' })
    }
  }

  private async run(event: SessionEvent): Promise<void> {
    for (const effect of this.session.handle(event, this.surroundings.moment())) {
      if (!(await this.perform(effect))) return this.run({ kind: 'store_failed' })
      if (effect.kind === 'store') await this.run({ kind: 'stored' })
    }
  }

  private async perform(effect: Effect): Promise<boolean> {
    switch (effect.kind) {
      case 'connect':
        this.connect()
        return true
      case 'close':
        this.hangUp()
        return true
      case 'send':
        if (this.socket?.readyState === 1) this.socket.send(effect.data as string | Uint8Array<ArrayBuffer>) // 1: open; else 'closed' is on its way
        return true
      case 'store':
        return this.store(effect.writes)
    }
  }

  private async store(writes: Parameters<Keeper['commit']>[0]): Promise<boolean> {
    try {
      await this.keeper.commit(writes)
      return true
    } catch (reason) {
      this.onStoreFailed(reason)
      return false
    }
  }

  private connect(): void {
    this.hangUp()
    const socket = this.surroundings.socket(this.url)
    this.socket = socket
    socket.binaryType = 'arraybuffer'
    socket.onopen = () => this.tell({ kind: 'opened' }, socket)
    socket.onclose = () => this.tell({ kind: 'closed' }, socket)
    socket.onmessage = ({ data }: MessageEvent<string | ArrayBuffer>) =>
      this.tell({ kind: 'message', data: typeof data === 'string' ? data : new Uint8Array(data) }, socket)
  }

  private hangUp(): void {
    const { socket } = this
    this.socket = undefined
    socket?.close()
  }

  private schedule(): void {
    clearTimeout(this.timer)
    const next = this.session.nextTick()
    if (next === undefined) return
    const wait = Math.max(0, next - this.surroundings.moment().now)
    this.timer = setTimeout(() => this.tell({ kind: 'tick' }), wait)
  }

  close(): void {
    this.closed = true
    clearTimeout(this.timer)
    this.hangUp()
  }
}
