// What stands at a farm's address over the years: at first an app from before people joined, with a shed
// that asked nobody; later nothing; then today's shed with today's app.

import { execFileSync } from 'node:child_process'
import { readFileSync, rmSync } from 'node:fs'
import { createServer, type IncomingMessage, request, type ServerResponse } from 'node:http'
import { type AddressInfo, connect, type Socket } from 'node:net'
import { extname, join, normalize } from 'node:path'
import type { Duplex } from 'node:stream'
import { scratchFolder } from './shed'

export type Standing = 'old app' | 'nothing' | 'today'

export interface Front {
  readonly url: string
  stand(now: Standing): void
  close(): Promise<void>
}

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.woff2': 'font/woff2',
  '.webmanifest': 'application/manifest+json', '.png': 'image/png', '.svg': 'image/svg+xml',
}

/** archive holds the old app as it was built; cookie is a device's token, which the old app knows nothing of. */
export async function openFront(archive: string, shed: () => number, cookie: string): Promise<Front> {
  const folder = scratchFolder('old-app')
  execFileSync('tar', ['-xzf', archive, '-C', folder])
  const sockets = new Set<Duplex>()
  let standing: Standing = 'old app'
  const token = () => (standing === 'old app' ? { cookie } : {})

  const server = createServer((asked, answer) => {
    const path = new URL(asked.url ?? '/', 'http://front').pathname
    if (standing === 'nothing') asked.socket.destroy()
    else if (standing === 'old app' && !path.startsWith('/api')) fromFolder(folder, path, answer)
    else passOn(asked, answer, shed(), token())
  })
  server.on('upgrade', (asked, phone: Duplex) => {
    if (standing === 'nothing') phone.destroy()
    else passSocketOn(asked, phone, shed(), token(), sockets)
  })
  server.on('connection', (socket: Socket) => keep(sockets, socket))
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    stand(now) {
      standing = now
      for (const socket of sockets) socket.destroy()
    },
    async close() {
      for (const socket of sockets) socket.destroy()
      await new Promise((resolve) => server.close(resolve))
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

function keep(sockets: Set<Duplex>, socket: Duplex): void {
  sockets.add(socket)
  socket.on('close', () => sockets.delete(socket))
  socket.on('error', () => socket.destroy())
}

function fromFolder(folder: string, path: string, answer: ServerResponse): void {
  const file = extname(path) === '' ? 'index.html' : normalize(path)
  answer.writeHead(200, { 'content-type': types[extname(file)] ?? 'application/octet-stream', 'cache-control': 'no-cache' })
  answer.end(readFileSync(join(folder, file)))
}

function passOn(asked: IncomingMessage, answer: ServerResponse, port: number, more: Record<string, string>): void {
  const on = request(
    { port, host: '127.0.0.1', method: asked.method, path: asked.url, headers: { ...asked.headers, ...more } },
    (from) => {
      answer.writeHead(from.statusCode ?? 502, from.headers)
      from.pipe(answer)
    },
  )
  on.on('error', () => answer.destroy())
  asked.pipe(on)
}

function passSocketOn(asked: IncomingMessage, phone: Duplex, port: number, more: Record<string, string>, sockets: Set<Duplex>): void {
  const on = connect(port, '127.0.0.1')
  keep(sockets, on)
  const headers = Object.entries({ ...asked.headers, ...more }).map(([name, value]) => `${name}: ${String(value)}\r\n`)
  on.write(`GET ${asked.url ?? ''} HTTP/1.1\r\n${headers.join('')}\r\n`)
  on.pipe(phone)
  phone.pipe(on)
  on.on('close', () => phone.destroy())
  phone.on('close', () => on.destroy())
}
