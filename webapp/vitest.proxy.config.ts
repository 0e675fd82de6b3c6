import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    environment: 'node',
    include: ['proxy/**/*.proxy.ts'],
    // Seeds mostly wait, for the network or the disk.
    maxConcurrency: 10,
    testTimeout: 200_000,
    hookTimeout: 60_000,
    reporters: ['default', './vitest.tally.ts'],
  },
})
