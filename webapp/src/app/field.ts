// Whether the app stands on this device as a whole, and whether a newer one waits.

import { signal } from '@preact/signals'

/** The service worker has said that every file of this version is on the device. */
export const readyForField = signal(false)
export const updateWaiting = signal(false)

/** How often a newer version is looked for while the app stays open. */
const hour = 3_600_000

let registered: ServiceWorkerRegistration | undefined
let waiting: ServiceWorker | null = null
let taking = false

/** Installs the service worker and listens to it; call once, after the first drawing. */
export async function keepForField(): Promise<void> {
  if (!('serviceWorker' in navigator) || !import.meta.env.PROD) return
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    if (taking) location.reload()
  })
  try {
    registered = await navigator.serviceWorker.register('/sw.js', { updateViaCache: 'none' })
    watch(registered)
    lookAgain()
    const { active } = await navigator.serviceWorker.ready
    if (active) askWhole(active)
  } catch (reason) {
    console.error('keeping the app for the field', reason) // the sign stays away: it is not ready
  }
}

function watch(registration: ServiceWorkerRegistration): void {
  const note = () => {
    waiting = registration.waiting
    // A first install waits for nobody: only what would replace a running version is an update.
    updateWaiting.value = waiting !== null && navigator.serviceWorker.controller !== null
  }
  const follow = () => registration.installing?.addEventListener('statechange', note)
  note()
  follow() // one may be under way since before this page was there
  registration.addEventListener('updatefound', follow)
}

/** Asks the worker whether every file is stored; it fetches what is missing before it answers. */
function askWhole(worker: ServiceWorker): void {
  const channel = new MessageChannel()
  channel.port1.onmessage = () => { readyForField.value = true }
  worker.postMessage('complete', [channel.port2])
}

function lookAgain(): void {
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') lookForUpdate()
  })
  setInterval(lookForUpdate, hour)
}

/** Asks the shed for a newer version of the app, as when it comes in reach. */
export function lookForUpdate(): void {
  registered?.update().catch(() => {}) // offline: the next time
}

/** Changes to the newer version; the page reloads once it has taken over. */
export function takeUpdate(): void {
  taking = true
  waiting?.postMessage('activate')
}
