// Runs main.ts, since the oldest Node that we support reads no TypeScript by itself.

import { register } from 'node:module'

process.setSourceMapsEnabled(true)
register('./typescript.mjs', import.meta.url)
await import('./main.ts')
