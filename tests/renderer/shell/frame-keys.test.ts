import { ORPCError } from '@orpc/client'
import { describe, expect, test } from 'vitest'
import { problem } from '../../../core/problems.ts'
import { readAddressWords } from '../../../renderer/shell/address-words.ts'
import { frameKey } from '../../../renderer/shell/frame-key.ts'
import { pileDepth } from '../../../renderer/shell/pile-depth.ts'
import { shortId } from '../../../renderer/shell/short-id.ts'
import { problemOf } from '../../../renderer/shell/told-problem.ts'

const press = (over: Partial<Parameters<typeof frameKey>[0]>) => ({
  key: '',
  code: '',
  altKey: false,
  ctrlKey: false,
  metaKey: false,
  ...over,
})

describe('keys of the frame', () => {
  test('Alt and a figure lead to the trays, Alt+0 to the desk', () => {
    expect(frameKey(press({ altKey: true, code: 'Digit1' }), false)).toEqual({ goTo: '/due' })
    expect(frameKey(press({ altKey: true, code: 'Numpad7' }), true)).toEqual({ goTo: '/orders' })
    expect(frameKey(press({ altKey: true, code: 'Digit0' }), false)).toEqual({ goTo: '/' })
    expect(frameKey(press({ altKey: true, code: 'Digit8' }), false)).toBeNull()
  })
  test('a stroke leads to the search, but not out of a field', () => {
    expect(frameKey(press({ key: '/' }), false)).toEqual({ search: true })
    expect(frameKey(press({ key: '/' }), true)).toBeNull()
    expect(frameKey(press({ key: '/', ctrlKey: true }), false)).toBeNull()
  })
})

describe('what the user is told', () => {
  test('a refusal keeps its own sentence', () => {
    const refusal = problem('DATABASE_BUSY')
    expect(problemOf(new ORPCError('REFUSED', { status: 422, data: refusal }))).toEqual(refusal)
  })
  test('a fault says its number, a lost connection says that the office does not answer', () => {
    expect(problemOf(new ORPCError('INTERNAL_SERVER_ERROR', { data: { id: '8f3a21c0' } })).id).toBe('8f3a21c0')
    expect(problemOf(new TypeError('Failed to fetch')).sentence).toBe('The office does not answer.')
    expect(problemOf('anything').nextStep).toContain('Try again')
  })
  test('the same fault has the same short id', () => {
    expect(shortId('a fault')).toMatch(/^[0-9a-z]{6}$/)
    expect(shortId('a fault')).toBe(shortId('a fault'))
    expect(shortId('a fault')).not.toBe(shortId('another fault'))
  })
})

test('a pile grows with its count and stays within five sheets', () => {
  expect([0, 1, 3, 9, 42, 118, 100_000].map(pileDepth)).toEqual([0, 1, 1, 2, 4, 4, 5])
})

test('an address keeps only words', () => {
  expect(readAddressWords({ open: 41, day: '2026-12-02', odd: { a: 1 } })).toEqual({ open: '41', day: '2026-12-02' })
})
