// A breaking line between phone and shed: a proxy that passes bytes on until it is told to lose the
// answer to the next push.

import { type AddressInfo, createServer, type Server, type Socket, connect } from 'node:net'

export interface Line {
  readonly url: string
  /**
   * Lets the next push through to the shed, keeps every answer back, and cuts the connection once
   * the shed has had time to commit. Resolves when it is cut.
   */
  loseNextAnswer(): Promise<void>
  close(): Promise<void>
}

/** Frames shorter than this are heartbeats; a push never is. */
const shortestPush = 120
/** The shed commits within milliseconds; this leaves a slow machine time. */
const commitTime = 1_500

export async function openLine(port: number): Promise<Line> {
  const sockets = new Set<Socket>()
  let armed: (() => void) | undefined
  const server: Server = createServer((phone) => {
    const shed = connect(port, '127.0.0.1')
    let upgraded = false
    let mute = false
    for (const socket of [phone, shed]) {
      sockets.add(socket)
      socket.on('error', () => socket.destroy())
      socket.on('close', () => {
        sockets.delete(socket)
        phone.destroy()
        shed.destroy()
      })
    }
    phone.on('data', (chunk: Buffer) => {
      if (upgraded && armed !== undefined && chunk.length >= shortestPush) {
        const cut = armed
        armed = undefined
        mute = true
        setTimeout(() => {
          phone.destroy()
          cut()
        }, commitTime)
      }
      if (/^upgrade: websocket/im.test(chunk.toString('latin1'))) upgraded = true
      shed.write(chunk)
    })
    shed.on('data', (chunk: Buffer) => {
      if (!mute) phone.write(chunk)
    })
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port: own } = server.address() as AddressInfo
  return {
    url: `http://127.0.0.1:${own}`,
    loseNextAnswer: () => new Promise((resolve) => (armed = resolve)),
    close: () =>
      new Promise((resolve) => {
        for (const socket of sockets) socket.destroy()
        server.close(() => resolve())
      }),
  }
}
