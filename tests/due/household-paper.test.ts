import { describe, expect, test } from 'vitest'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { aToldHome, reckonDueDates } from '../builders/a-told-home.ts'
import { anOffice } from '../builders/an-office.ts'
import { COUPLE, FAMILY_OF_SIX, HARD_WATER } from '../builders/four-told-homes.ts'
import { databases } from '../data/each-database.ts'
import { wordsOnPages } from '../judges/words-on-pages.ts'

const openMemory = databases[0]?.open ?? (() => Promise.reject(new Error('no database')))

async function pagesOf(
  home: typeof HARD_WATER,
  pageSize: 'letter' | 'a4' = 'letter',
  measures: 'us' | 'metric' = 'us',
) {
  const office = await anOffice(await openMemory())
  const { siteId } = await aToldHome(office.database, home)
  for (const [name, value] of Object.entries({ pageSize, measures }))
    await office.database.write
      .insertInto('settings')
      .values({ office_id: FIRST_OFFICE, name, value: JSON.stringify(value) })
      .execute()
  await reckonDueDates(office)
  const response = await office.handle(new Request(`http://office/papers/household/${siteId}.pdf`))
  expect(response.status).toBe(200)
  const pages = await wordsOnPages(new Uint8Array(await response.arrayBuffer()))
  return pages.map((page) => page.replace(/\s+/g, ' '))
}

describe('the page of a household', () => {
  test('PIC-5 address, stages with dates and reasons, the visits to come, rejection and readings, page x of y', async () => {
    const pages = await pagesOf(HARD_WATER)
    const all = pages.join(' ')
    for (const words of [
      'Abernathy-Vance, Corinne',
      'AV-0118',
      '18 Weirside Lane, Tollard Mill',
      'household of four',
      '17 gpg, very hard',
      'The visits to come',
      'What the membrane holds back',
      'replace 75 %',
      'Flow, put right to 25 °C',
      'unlikely, does not count',
      'Before anything is opened',
    ])
      expect(all).toContain(words)
    expect(all).toMatch(/Membrane May 8, 2023 \w{3} \d+, 2027 holds back 77 of 100, reaches 75/)
    expect(pages).toHaveLength(2)
    for (const [index, page] of pages.entries()) {
      expect(page).toContain(`page ${index + 1} of 2`)
      expect(page).toContain('printed December 1, 2026')
      expect(page).toContain('Larkmoor Water')
    }
  })

  test('PIC-5 on A4 and in metric units it says the same', async () => {
    const all = (await pagesOf(FAMILY_OF_SIX, 'a4', 'metric')).join(' ')
    expect(all).toContain('Galbraith, Ottoline')
    expect(all).toContain('0 mL/min')
    expect(all).toContain('Clogged filters ahead of the membrane')
    expect(all).not.toContain('gal/day')
  })

  test('PIC-5 few readings are said to be few, and an address without a household is refused', async () => {
    const all = (await pagesOf(COUPLE)).join(' ')
    expect(all).toContain('household of two')
    expect(all).toMatch(/two readings|Two readings|trend needs three|needs three/)
    const office = await anOffice(await openMemory())
    expect((await office.handle(new Request('http://office/papers/household/41.pdf'))).status).toBe(422)
    expect((await office.handle(new Request('http://office/papers/household/none.pdf'))).status).toBe(404)
  })
})
