import { z } from 'zod'

/** How many tests ran well and how many did not. */
export interface TestCounts {
  readonly passed: number
  readonly failed: number
}

const vitestReport = z.object({
  numPassedTests: z.int(),
  numFailedTests: z.int(),
  testResults: z.array(z.object({ status: z.string(), assertionResults: z.array(z.object({ status: z.string() })) })),
})

const playwrightReport = z.object({
  stats: z.object({ expected: z.int(), unexpected: z.int(), flaky: z.int() }),
  errors: z.array(z.unknown()).default([]),
})

/** A report that is missing or unreadable counts as one failure: nothing is known to have passed. */
const UNKNOWN: TestCounts = { passed: 0, failed: 1 }

function parsed(text: string | null): unknown {
  try {
    return text === null ? null : JSON.parse(text)
  } catch {
    return null
  }
}

/** From vitest's JSON report. A file that broke before its first test counts as one failure. */
export function countVitest(text: string | null): TestCounts {
  const report = vitestReport.safeParse(parsed(text))
  if (!report.success) return UNKNOWN
  const broken = report.data.testResults.filter(
    ({ status, assertionResults }) => status === 'failed' && assertionResults.every((one) => one.status !== 'failed'),
  )
  return { passed: report.data.numPassedTests, failed: report.data.numFailedTests + broken.length }
}

/** From Playwright's JSON report. A test that passed only when it was tried again is a defect, and counts as failed. */
export function countPlaywright(text: string | null): TestCounts {
  const report = playwrightReport.safeParse(parsed(text))
  if (!report.success) return UNKNOWN
  const { expected, unexpected, flaky } = report.data.stats
  return { passed: expected, failed: unexpected + flaky + report.data.errors.length }
}

export function sumCounts(counts: readonly TestCounts[]): TestCounts {
  return counts.reduce((sum, one) => ({ passed: sum.passed + one.passed, failed: sum.failed + one.failed }), {
    passed: 0,
    failed: 0,
  })
}
