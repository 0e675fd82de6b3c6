// User agents as the browsers sent them in 2024 and 2025, from memory.

import { expect, test } from 'vitest'
import { installsFirst, kindOf } from './kind'

const iphone = 'Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.1 Mobile/15E148 Safari/604.1'
const mac = 'Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.1 Safari/605.1.15'
const android = 'Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/131.0.0.0 Mobile Safari/537.36'
const chromeOniPhone = 'Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) CriOS/131.0.6778.73 Mobile/15E148 Safari/604.1'

test.each([
  ['iphone', iphone, 5],
  ['iphone', chromeOniPhone, 5],
  ['ipad', mac, 5],
  ['ipad', 'Mozilla/5.0 (iPad; CPU OS 12_5 like Mac OS X) AppleWebKit/605.1.15', 5],
  ['mac', mac, 0],
  ['android_phone', android, 5],
  ['android_tablet', android.replace('Mobile ', ''), 5],
  ['windows', 'Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 Chrome/131.0.0.0 Safari/537.36', 10],
  ['chromebook', 'Mozilla/5.0 (X11; CrOS x86_64 14541.0.0) AppleWebKit/537.36 Chrome/131.0.0.0 Safari/537.36', 0],
  ['linux', 'Mozilla/5.0 (X11; Linux x86_64; rv:132.0) Gecko/20100101 Firefox/132.0', 0],
  ['other', '', 0],
] as const)('%s is told by %s', (kind, userAgent, touchPoints) => {
  expect(kindOf({ userAgent, touchPoints })).toBe(kind)
})

test.each([
  ['an iPhone in Safari', iphone, 5, false, true],
  ['an iPhone in another browser', chromeOniPhone, 5, false, true],
  ['an iPad that says it is a Mac', mac, 5, false, true],
  ['an iPhone from its home screen', iphone, 5, true, false],
  ['a Mac', mac, 0, false, false],
  ['an Android phone', android, 5, false, false],
])('%s installs first: %#', (_, userAgent, touchPoints, standalone, first) => {
  expect(installsFirst({ userAgent, touchPoints, standalone })).toBe(first)
})
