import type { z } from 'zod'

/**
 * What is wrong with a form, by the contract's own input schema: one sentence per field (path joined by a point), the first one that was found.
 * Empty when nothing is.
 */
export function formProblems(schema: z.ZodType, draft: unknown): Readonly<Record<string, string>> {
  const parsed = schema.safeParse(draft)
  if (parsed.success) return {}
  const problems: Record<string, string> = {}
  for (const issue of parsed.error.issues) {
    const path = issue.path.map(String).join('.')
    problems[path] ??= sentenceOf(issue)
  }
  return problems
}

function sentenceOf(issue: z.core.$ZodIssue): string {
  if (issue.code === 'custom') return issue.message
  if (issue.code === 'invalid_type') return 'This is still needed.'
  if (issue.code === 'too_small')
    return issue.origin === 'string' ? 'This is still needed.' : `This must be ${issue.minimum} or more.`
  if (issue.code === 'too_big')
    return issue.origin === 'string'
      ? `This is longer than ${issue.maximum} letters.`
      : `This must be ${issue.maximum} or less.`
  if (issue.code === 'invalid_format' && issue.format === 'email') return 'This is not an e-mail address.'
  return 'This is not understood here.'
}
