import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    environment: 'node',
    include: ['e2e/**/*.figures.ts'],
    fileParallelism: false,
    hookTimeout: 60_000,
  },
})
