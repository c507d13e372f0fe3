import { type Problem, type ProblemCode, problem } from './problems.ts'

/** An answer, or a refusal with its reason. Exceptions are for bugs only. */
export type Result<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: Problem }

export function ok<T>(value: T): Result<T> {
  return { ok: true, value }
}

export function refused(code: ProblemCode, facts: Readonly<Record<string, string | number>> = {}): Result<never> {
  return { ok: false, problem: problem(code, facts) }
}
