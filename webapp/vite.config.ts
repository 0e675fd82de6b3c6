import { defineConfig } from 'vite'
import { precache } from './precache.ts'

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
  plugins: [precache()],
})
