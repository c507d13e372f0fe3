import { ORPCError } from '@orpc/client'
import { expect, test } from 'vitest'
import { fetchSheet, SheetNotFetched } from '../../../renderer/shell/fetch-sheet.ts'

const NEVER_CAME = new TypeError('Failed to fetch dynamically imported module')
const broken = async (): Promise<never> => {
  throw NEVER_CAME
}

async function toldWhen(askWhy: () => Promise<unknown>): Promise<string> {
  const fault: unknown = await fetchSheet(broken, askWhy).catch((error: unknown) => error)
  if (!(fault instanceof SheetNotFetched)) throw new Error('It did not say that the sheet was not fetched')
  expect(fault.cause).toBe(NEVER_CAME)
  return fault.told.sentence
}

test('a sheet that comes is given on, and nothing is asked', async () => {
  const sheet = await fetchSheet(
    async () => 'the sheet',
    () => Promise.reject(new Error('asked')),
  )
  expect(sheet).toBe('the sheet')
})

test('a sheet that does not come is explained by what the office says', async () => {
  expect(await toldWhen(async () => ({}))).toBe('This sheet could not be fetched.')
  expect(await toldWhen(() => Promise.reject(new ORPCError('UNAUTHORIZED', { status: 401 })))).toContain(
    'does not know this window any more',
  )
  expect(await toldWhen(() => Promise.reject(new TypeError('Failed to fetch')))).toBe('The office does not answer.')
  expect(await toldWhen(() => Promise.reject(new Error('something else')))).toBe('This sheet could not be fetched.')
})
