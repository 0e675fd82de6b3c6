import { defineConfig } from 'vitest/config'

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    environment: 'node',
    testTimeout: 60_000, // a busy machine fails no test
    include: ['src/**/*.test.ts', 'src/**/*.test.tsx', 'measure/**/*.test.ts'],
    reporters: ['default', './vitest.tally.ts'],
  },
})
