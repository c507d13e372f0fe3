import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['tests/e2e/**', 'tests/bench/**', 'node_modules/**'],
    setupFiles: ['tests/no-noise.ts'],
    // The built shell is loaded by Node itself, as Electron would.
    server: { deps: { external: [/shell-under-test/] } },
    maxWorkers: 2,
    // How long a machine may take that does much else besides. Nothing waits this long where it is not needed.
    testTimeout: 120_000,
    hookTimeout: 300_000,
    expect: { requireAssertions: true },
  },
})
