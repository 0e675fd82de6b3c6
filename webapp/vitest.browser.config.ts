import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    environment: 'node',
    include: ['e2e/**/*.browser.ts'],
    // One browser after the other: they share two cores with the server.
    fileParallelism: false,
    testTimeout: 90_000,
    hookTimeout: 60_000,
    reporters: ['default', './vitest.tally.ts'],
  },
})
