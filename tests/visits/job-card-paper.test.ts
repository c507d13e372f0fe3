import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../core/visits/cautions.ts'
import { aPartInStock, aServicedHousehold, aTechnicianWithVan } from '../builders/a-serviced-household.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'
import { wordsOnPages } from '../judges/words-on-pages.ts'

const openMemory = databases[0]?.open ?? (() => Promise.reject(new Error('no database')))
const squeezed = (text: string) => text.replace(/\s+/g, ' ')

describe('job cards and routes on paper', () => {
  test('VIS-20 each visit has a page with its tasks, blanks, both leak checks and every caution in full', async () => {
    const office = await anOffice(await openMemory())
    const db = office.database.write
    const { technicianId, vanPlaceId } = await aTechnicianWithVan(db)
    const { partId } = await aPartInStock(db, 'P-1005', 'Sediment filter, 10 in', vanPlaceId)
    const names = ['Abernathy-Vance, Corinne', 'Bexhill-Moreno, Idris']
    for (const [index, name] of names.entries()) {
      const parts = [
        { kind: 'sediment', partId },
        { kind: 'carbon', partId },
        { kind: 'carbon', partId },
        { kind: 'membrane', partId },
        { kind: 'tank', partId: null },
      ] as const
      const home = await aServicedHousehold(db, { reference: `AV-${index}`, name, parts, latitude: 45 + index / 50 })
      const { status } = await office.ask('visits/book', {
        siteId: home.siteId,
        technicianId,
        on: '2026-12-02',
        windowFrom: 480 + 120 * index,
        windowUntil: 600 + 120 * index,
        tasks: home.stageIds.map((stageId, at) => ({
          kind: at === 4 ? 'sanitise' : 'change',
          stageId,
          description: '',
          minutes: 0,
        })),
        ownMinutes: null,
        note: 'Ring before you set out.',
        promised: true,
        setAside: [],
        daySeen: null,
      })
      expect(status).toBe(200)
    }
    const cards = await office.handle(new Request('http://office/papers/visits/2026-12-02.pdf'))
    const pages = await wordsOnPages(new Uint8Array(await cards.arrayBuffer()))
    expect(pages).toHaveLength(2)
    for (const [index, page] of pages.entries()) {
      const text = squeezed(page)
      expect(text).toContain(`Stop ${index + 1} of 2: ${names[index]}`)
      for (const words of [
        'side door; dog in the yard',
        'Ring before you set out.',
        'Sediment filter, 10 in P-1005',
        'TDS in',
        'Temperature',
      ])
        expect(text).toContain(words)
      for (const words of [
        'No leak before leaving',
        'No leak after the tank has filled',
        'Could not, because',
        'For the household',
      ])
        expect(text).toContain(words)
      for (const caution of CAUTIONS) expect(text).toContain(squeezed(`${caution.head}. ${caution.text}`))
    }
    const routes = await office.handle(new Request('http://office/papers/routes/2026-12-02.pdf'))
    const [route] = await wordsOnPages(new Uint8Array(await routes.arrayBuffer()))
    const text = squeezed(route ?? '')
    expect(text).toContain('2 stops')
    expect(text.indexOf(names[0] ?? '')).toBeLessThan(text.indexOf(names[1] ?? ''))
  })
})
