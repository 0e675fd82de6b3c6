// A websocket for tests that talks to a ShedModel, each message in a turn of its own.

import type { ShedModel } from './shed_model'
import { ShedLine } from './shed_model'

export class SocketModel {
  readyState = 0
  onopen: (() => void) | null = null
  onclose: (() => void) | null = null
  onmessage: ((event: { data: string }) => void) | null = null
  private line: ShedLine | undefined

  /** Without a shed the line never opens: no network. */
  constructor(shed: ShedModel | undefined) {
    if (!shed) return
    this.line = new ShedLine(shed, () => this.close())
    setTimeout(() => this.open(), 0)
  }

  private open(): void {
    if (this.readyState !== 0) return
    this.readyState = 1
    this.onopen?.()
    this.carry()
  }

  private carry(): void {
    if (this.readyState !== 1) return
    for (let text = this.line!.said.shift(); text !== undefined; text = this.line!.said.shift()) {
      this.onmessage?.({ data: text })
    }
    setTimeout(() => this.carry(), 1)
  }

  send(text: string): void {
    this.line?.hear(text)
  }

  close(): void {
    if (this.readyState === 3) return
    this.readyState = 3
    this.line?.cut()
    setTimeout(() => this.onclose?.(), 0)
  }
}
