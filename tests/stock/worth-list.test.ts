import { parse } from 'csv-parse/sync'
import { expect, test } from 'vitest'
import { writeCsv } from '../../core/imports/write-csv.ts'
import { worthList } from '../../core/stock/worth-list.ts'
import type { Worth } from '../../core/stock/worth-shapes.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { LotId, PartId, PlaceId } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'

const money = (value: number) => cents(value)
const page: Worth = {
  on: calendarDate('2026-12-01'),
  isToday: true,
  restAfterDays: 180,
  value: money(123_456),
  inBins: money(100_000),
  onVans: money(23_456),
  elsewhere: money(0),
  lost: money(0),
  resting: money(0),
  atRisk: money(2000),
  fill: { since: calendarDate('2026-09-02'), piecesAsked: 10, piecesServed: 9, visits: 3, visitsWhole: 2 },
  sentences: [],
  parts: [
    {
      partId: 1 as PartId,
      number: 'P-1005',
      name: 'Sediment filter, 10"',
      pieces: 60,
      value: money(123_456),
      inBins: money(100_000),
      onVans: money(23_456),
      elsewhere: money(0),
      usable: 60,
      lost: money(0),
      usedOn: null,
      restDays: 4,
      rests: false,
      aDay: 1.23456,
      coverDays: 48,
      asked: 10,
      served: 9,
    },
  ],
  places: [{ placeId: 1 as PlaceId, name: 'A-01-1', kind: 'bin', parts: 1, pieces: 60, value: money(123_456) }],
  expiring: [
    {
      lotId: 1 as LotId,
      lot: 'L-1',
      partId: 1 as PartId,
      number: 'P-1005',
      name: 'Sediment filter, 10"',
      expiresOn: calendarDate('2026-12-20'),
      pieces: 20,
      value: money(20_000),
      willBeUsed: 18,
      atRisk: money(2000),
    },
  ],
}

test('STK-67 the whole page is one list: a row a part, a place and an expiring lot, each with what it is', () => {
  const { headers, lines } = worthList(page, 2)
  expect(new Set(headers).size).toBe(headers.length)
  for (const line of lines) expect(line).toHaveLength(headers.length)
  const at = (row: number, header: string) => lines[row]?.[headers.indexOf(header)]
  expect(lines.map((line) => line[0])).toEqual(['in all', 'part', 'bin', 'expiring lot'])
  expect([at(0, 'Value'), at(1, 'Value'), at(2, 'Value'), at(3, 'Value')]).toEqual([1234.56, 1234.56, 1234.56, 200])
  expect([at(1, 'Expected a day'), at(1, 'Enough for days'), at(1, 'Last used')]).toEqual([1.235, 48, null])
  expect([at(3, 'Used by its date'), at(3, 'Likely left, value')]).toEqual([18, 20])
  // A currency without small coins has whole units
  expect(worthList(page, 0).lines[0]?.[headers.indexOf('Value')]).toBe(123_456)
})

test('STK-67 a reader of another make finds the same cells', () => {
  const { headers, lines } = worthList(page, 2)
  const read: string[][] = parse(writeCsv(headers, lines), { bom: true })
  expect(read[0]).toEqual(headers)
  expect(read.slice(1)).toEqual(lines.map((line) => line.map((cell) => (cell === null ? '' : String(cell)))))
})
