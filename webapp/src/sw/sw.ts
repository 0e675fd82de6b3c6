// The service worker: it keeps one whole version of the app on the device and serves it with no
// network. It never touches what is the server's, and a newer version waits until the page calls for it,
// so that an update never breaks a walk.

export {}

declare const self: ServiceWorkerGlobalScope
/** Every file of this build, and a name that changes with any of them; the build puts both in. */
declare const CORYMB_FILES: readonly string[]
declare const CORYMB_VERSION: string

const files = CORYMB_FILES
const cacheName = `corymb ${CORYMB_VERSION}`

/** What the server answers itself: never the app's, even where somebody opens it in the address bar (server/pages). */
const serversOwn = /^\/(api|sync|trust|authority\.\w+)(\/|$)/

self.addEventListener('install', event => event.waitUntil(fill()))

self.addEventListener('activate', event => event.waitUntil(takeOver()))

self.addEventListener('message', event => {
  if (event.data === 'activate') event.waitUntil(self.skipWaiting())
  if (event.data === 'complete') event.waitUntil(fill().then(() => event.ports[0]?.postMessage('complete')))
})

self.addEventListener('fetch', event => {
  const { method, mode, url } = event.request
  const { origin, pathname } = new URL(url)
  if (method !== 'GET' || origin !== self.location.origin || serversOwn.test(pathname)) return
  event.respondWith(serve(event.request, mode === 'navigate' ? '/' : pathname))
})

/** Stores what is missing. One file that cannot be fetched fails the whole, and says which. */
async function fill(): Promise<void> {
  const cache = await caches.open(cacheName)
  await Promise.all(files.map(async file => {
    if (await cache.match(file)) return
    const answer = await fetch(file, { cache: 'reload' })
    if (!answer.ok) throw new Error(`storing the app: ${file} answered ${answer.status}`)
    await cache.put(file, answer)
  }))
}

async function takeOver(): Promise<void> {
  const names = await caches.keys()
  await Promise.all(names.filter(name => name !== cacheName).map(name => caches.delete(name)))
  await self.clients.claim()
}

async function serve(request: Request, path: string): Promise<Response> {
  const cache = await caches.open(cacheName)
  return (await cache.match(path)) ?? fetch(request)
}
