import { defineConfig } from 'vite'
import { bundled } from './bundled.ts'
import { precache } from './precache.ts'

// Only a build is made with this: a test that starts one must not lend it its own environment.
process.env['NODE_ENV'] = 'production'

export default defineConfig({
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: 'dist',
    emptyOutDir: false, // precache empties it, all but .gitkeep
    sourcemap: false,
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
  },
  plugins: [precache(), bundled(process.env['CORYMB_BUNDLED'])],
})
