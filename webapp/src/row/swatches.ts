// Plausible colours of cut flowers to choose a class's swatch from: mixed by eye for this app, from no chart.

import type { Key } from '../messages/messages'

type SwatchName = Key extends infer K ? (K extends `swatch.${infer N}` ? N : never) : never

export const swatches: readonly { readonly name: SwatchName; readonly swatch: string }[] = [
  { name: 'white', swatch: '#f4f2ec' }, { name: 'cream', swatch: '#efe3c2' }, { name: 'buff', swatch: '#d9bf9b' },
  { name: 'pale_yellow', swatch: '#f0e08f' }, { name: 'yellow', swatch: '#e8c93a' }, { name: 'gold', swatch: '#d99f2b' },
  { name: 'apricot', swatch: '#eeb083' }, { name: 'salmon', swatch: '#e5907c' }, { name: 'terracotta', swatch: '#b9603f' },
  { name: 'scarlet', swatch: '#c63a2d' }, { name: 'crimson', swatch: '#ad2440' }, { name: 'wine', swatch: '#6d1f35' },
  { name: 'blush', swatch: '#f0d3cd' }, { name: 'pink', swatch: '#e6a3b4' }, { name: 'rose', swatch: '#cf5f86' },
  { name: 'magenta', swatch: '#b0347f' }, { name: 'lilac', swatch: '#b79acb' }, { name: 'purple', swatch: '#7a4a94' },
]
