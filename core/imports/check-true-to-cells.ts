import { type CalendarDate, dayNumberOf, partsOf } from '../units/calendar-date.ts'
import type { ListSheet } from './find-sheet.ts'
import type { ListHousehold } from './group-rows.ts'

/**
 * Every date and every number that is planned stands in a cell of the household's own rows. Reads the cells in its own crude way:
 * the figures of a date must be there, in whatever order, and a number as it stands, added up, or in another unit.
 */
export function checkTrueToCells(sheet: ListSheet, planned: readonly ListHousehold[]): string[] {
  const cellsOfLine = new Map(sheet.rows.map((row) => [row.line, row.cells]))
  return planned.flatMap((household) => {
    const cells = household.lines
      .flatMap((line) => cellsOfLine.get(line) ?? [])
      .filter((cell) => /\d|\p{L}/u.test(cell))
    const line = household.lines[0] ?? 0
    const strange = [
      ...datesOf(household).filter((date) => !cells.some((cell) => holdsDate(cell, date))),
      ...numbersOf(household).filter(({ value, units }) => !cells.some((cell) => holdsNumber(cell, value, units))),
    ]
    return strange.map((one) => `${typeof one === 'string' ? one : one.value} stands in no cell of line ${line}.`)
  })
}

function datesOf({ units }: ListHousehold): CalendarDate[] {
  const dates = units.flatMap((unit) => [
    unit.installedOn,
    ...unit.stages.flatMap((stage) => [stage.changedOn, stage.dueOn]),
  ])
  return [...new Set(dates.filter((date) => date !== null))]
}

function holdsDate(cell: string, date: CalendarDate): boolean {
  const { year, month, day } = partsOf(date)
  const figures: readonly string[] = cell.match(/\d+/g) ?? []
  const has = (value: number): boolean => figures.some((figure) => Number(figure) === value)
  const inWords = /\p{L}{3}/u.test(cell)
  const written = (has(year) || has(year % 100)) && (has(month) || inWords) && (has(day) || day === 1)
  // Spreadsheets count days from 1899-12-30 on, once 1900's missing leap day is behind them.
  const counted = dayNumberOf(date) + 25_569
  return written || has(counted) || figures.includes(date.replaceAll('-', ''))
}

interface PlannedNumber {
  readonly value: number
  /** What one of the cell's own unit may be worth. */
  readonly units: readonly number[]
}

/** mg/L of calcium carbonate in a grain a US gallon and in a German degree. */
const OF_HARDNESS = [1, 17.118_06, 17.848_134] as const
/** Months in a year, in a week and in a day. */
const OF_MONTHS = [1, 12, 7 / 30.44, 1 / 30.44] as const

function numbersOf({ people, hardness, tds, units }: ListHousehold): PlannedNumber[] {
  const number = (value: number | null, worth: readonly number[]): PlannedNumber[] =>
    value === null ? [] : [{ value, units: worth }]
  return [
    ...number(people, [1]),
    ...number(hardness, OF_HARDNESS),
    ...number(tds, [1]),
    ...units.flatMap((unit) => [
      ...number(unit.everyMonths, OF_MONTHS),
      ...unit.stages.flatMap((stage) => number(stage.months, OF_MONTHS)),
    ]),
  ]
}

function holdsNumber(cell: string, value: number, units: readonly number[]): boolean {
  const tokens = cell.match(/\d[\d.,]*/g) ?? []
  const read = tokens.flatMap(readings)
  const whole = tokens.map((token) => Number(token.replaceAll(/[.,]/g, '')))
  const values = [...read, whole.reduce((sum, one) => sum + one, 0)]
  const isMonths = units === OF_MONTHS
  // An interval in words: "yearly", "twice a year".
  if (isMonths && /\p{L}{4}/u.test(cell)) return true
  const slack = isMonths ? 0.5 : 0.06
  return values.some((one) => units.some((unit) => Math.abs(one * unit - value) <= slack))
}

/** A figure with points and commas, in every way it could be meant. */
function readings(token: string): number[] {
  const bare = token.replace(/[.,]$/, '')
  const last = Math.max(bare.lastIndexOf('.'), bare.lastIndexOf(','))
  const asWhole = Number(bare.replaceAll(/[.,]/g, ''))
  const asFraction =
    last < 0 ? asWhole : Number(`${bare.slice(0, last).replaceAll(/[.,]/g, '')}.${bare.slice(last + 1)}`)
  return [asWhole, asFraction].filter(Number.isFinite)
}
