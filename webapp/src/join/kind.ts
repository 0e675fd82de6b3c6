// What kind of device this is, as far as its browser says: for the word by which people tell devices
// apart, and because on iPhones and iPads a page and the app on the home screen share nothing.

export type Kind = 'iphone' | 'ipad' | 'android_phone' | 'android_tablet' | 'windows' | 'mac' | 'chromebook' | 'linux' | 'other'

export interface Browser {
  readonly userAgent: string
  readonly touchPoints: number
  /** Opened from the home screen: navigator.standalone of iOS, or the display mode. */
  readonly standalone: boolean
}

export function kindOf({ userAgent, touchPoints }: Pick<Browser, 'userAgent' | 'touchPoints'>): Kind {
  if (/iPhone|iPod/.test(userAgent)) return 'iphone'
  // An iPad says it is a Mac (since iPadOS 13), but no Mac has a touch screen.
  if (/iPad/.test(userAgent) || (/Macintosh/.test(userAgent) && touchPoints > 1)) return 'ipad'
  if (/Android/.test(userAgent)) return /Mobile/.test(userAgent) ? 'android_phone' : 'android_tablet'
  if (/Windows/.test(userAgent)) return 'windows'
  if (/Macintosh/.test(userAgent)) return 'mac'
  if (/CrOS/.test(userAgent)) return 'chromebook'
  return /Linux|X11/.test(userAgent) ? 'linux' : 'other'
}

/**
 * Whether the app has to be on the home screen before it joins. On iOS a page in the browser keeps its
 * own storage, which the app on the home screen never sees, and which Safari deletes after seven days
 * of use without a visit (webkit.org/blog/10218, "Full Third-Party Cookie Blocking and More").
 */
export function installsFirst(browser: Browser): boolean {
  const kind = kindOf(browser)
  return (kind === 'iphone' || kind === 'ipad') && !browser.standalone
}

export function thisBrowser(): Browser {
  const { userAgent, maxTouchPoints } = navigator
  const standalone = ('standalone' in navigator && navigator.standalone === true) || matchMedia('(display-mode: standalone)').matches
  return { userAgent, touchPoints: maxTouchPoints, standalone }
}
