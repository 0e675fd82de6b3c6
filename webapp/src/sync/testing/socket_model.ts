// A websocket for tests that talks to a ShedModel, each message in a turn of its own.

import { ShedLine } from './shed_line'
import type { ShedModel } from './shed_model'

export class SocketModel {
  readyState = 0
  onopen: (() => void) | null = null
  onclose: (() => void) | null = null
  binaryType = 'blob'
  onmessage: ((event: { data: string | ArrayBuffer }) => void) | null = null
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
    if (this.binaryType !== 'arraybuffer') throw new Error('a binary message would come as a Blob')
    for (let data = this.line!.said.shift(); data !== undefined; data = this.line!.said.shift()) {
      this.onmessage?.({ data: typeof data === 'string' ? data : data.slice().buffer })
    }
    setTimeout(() => this.carry(), 1)
  }

  send(data: string | Uint8Array): void {
    this.line?.hear(data)
  }

  close(): void {
    if (this.readyState === 3) return
    this.readyState = 3
    this.line?.cut()
    setTimeout(() => this.onclose?.(), 0)
  }
}
