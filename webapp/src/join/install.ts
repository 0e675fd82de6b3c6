// The browser's offer to put the app on the home screen, held back until a person wants it.

import { signal } from '@preact/signals'

/** What Chromium's browsers bring; the DOM's types do not know it. */
interface InstallOffer extends Event {
  prompt(): Promise<unknown>
}

export const installOffer = signal<InstallOffer | undefined>(undefined)

/** Call once, early: the offer comes soon after the page. */
export function followInstallOffer(): void {
  addEventListener('beforeinstallprompt', (event) => {
    event.preventDefault()
    installOffer.value = event as InstallOffer
  })
  addEventListener('appinstalled', () => { installOffer.value = undefined })
}

export function takeInstallOffer(): void {
  void installOffer.value?.prompt()
  installOffer.value = undefined // it can be taken once
}
