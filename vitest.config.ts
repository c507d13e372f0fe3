import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['tests/e2e/**', 'tests/bench/**', 'node_modules/**'],
    setupFiles: ['tests/no-noise.ts'],
    // The built shell is loaded by Node itself, as Electron would.
    server: { deps: { external: [/shell-under-test/] } },
    maxWorkers: 2,
    testTimeout: 30_000,
    hookTimeout: 120_000,
    expect: { requireAssertions: true },
  },
})
