import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    environment: 'node',
    include: ['e2e/**/*.browser.ts'],
    // Two browsers at a time: each waits for half of its time, and more would only draw late on two cores.
    maxWorkers: 2,
    // A busy machine draws late: what is waited for may take longer than the usual second.
    expect: { poll: { timeout: 20_000 } },
    testTimeout: 180_000,
    hookTimeout: 120_000,
    reporters: ['default', './vitest.tally.ts'],
  },
})
