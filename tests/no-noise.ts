import { afterEach, beforeEach, vi } from 'vitest'

/**
 * Noise is failure: whatever a test lets slip onto the console fails it. A test that expects a line hands in its own `log`
 * or replaces the console method itself.
 */
const METHODS = ['log', 'info', 'warn', 'error', 'debug', 'trace'] as const

let heard: string[] = []

beforeEach(() => {
  heard = []
  for (const method of METHODS) {
    vi.spyOn(console, method).mockImplementation((...words: unknown[]) => {
      heard.push(`console.${method}: ${words.map(String).join(' ')}`)
    })
  }
})

afterEach(() => {
  vi.restoreAllMocks()
  if (heard.length > 0) throw new Error(`The test was noisy:\n${heard.join('\n')}`)
})
