import type { CalendarDate } from '../units/calendar-date.ts'
import { counted, longDate } from '../units/date-words.ts'
import type { PartId, VisitTaskId } from '../units/ids.ts'
import {
  type Cents,
  cents,
  divideHalfAwayFromZero,
  formatCents,
  minorDigits,
  NO_MONEY,
  type TaxRate,
  taxRate,
} from '../units/money.ts'
import type { Minutes } from '../units/time-of-day.ts'
import { ONE, type Quantity, quantity, type ReckonedLine, type TaxCategory, unitPriceOfCents } from './invoice-lines.ts'

/** One thing that a recorded visit did, as far as the bill is concerned. */
export interface BillableTask {
  readonly taskId: VisitTaskId
  readonly kind: 'change' | 'sanitise' | 'measure' | 'other'
  readonly description: string
  /** The part that was fitted; null where nothing was. */
  readonly part: {
    readonly partId: PartId
    readonly number: string
    readonly name: string
    readonly price: Cents
    readonly taxFree: boolean
  } | null
  readonly pieces: number
  /** Minutes of work that count for labour; the office's own figure for the stage where the part has none. */
  readonly minutes: Minutes
  /** Under warranty, or a present: shown on the bill, with nothing to pay. */
  readonly free: boolean
}

export interface VisitToBill {
  readonly doneOn: CalendarDate
  readonly town: string
  /** The call itself is a present, or nothing was done. */
  readonly callFree: boolean
  readonly tasks: readonly BillableTask[]
}

/** How the office charges. */
export interface Charges {
  readonly currency: string
  readonly locale: string
  readonly callOut: Cents
  /** For an hour of work; nothing when labour is in the price of the parts. */
  readonly labourPerHour: Cents
  readonly taxRate: TaxRate
  readonly taxExempt: boolean
}

/** A line of a draft: what is reckoned, with its words and where it came from. */
export interface DraftLine extends ReckonedLine {
  readonly description: string
  /** "each", "hour", "call": what one of the quantity is. */
  readonly unit: string
  readonly partId: PartId | null
  readonly visitTaskId: VisitTaskId | null
}

/**
 * The lines that a recorded visit asks for: the call, every part fitted in the order of the work, and the labour in one line.
 * A free task keeps its line at its price with the whole of it taken off, so that the household sees what it was given.
 * An exempt customer's lines carry the category `exempt` at 0 %; a part that is free of tax carries `zero`.
 * Whole cents throughout: labour is one line at its rounded amount, so no fraction of an hour can drift.
 */
export function draftLines(visit: VisitToBill, charges: Charges): DraftLine[] {
  const digits = minorDigits(charges.currency)
  const taxed = taxOf(charges, false)
  const plain = { allowance: NO_MONEY, charge: NO_MONEY, partId: null, visitTaskId: null }
  const lines: DraftLine[] = []
  if (charges.callOut > 0 && !visit.callFree) {
    const description = `Call at ${visit.town || 'the house'}, ${longDate(visit.doneOn, charges.locale)}`
    lines.push({
      ...plain,
      ...taxed,
      description,
      unit: 'call',
      quantity: ONE,
      unitPrice: unitPriceOfCents(charges.callOut, digits),
    })
  }
  for (const task of visit.tasks) {
    if (task.part) lines.push(partLine(task, task.part, charges, digits))
  }
  const worked = visit.tasks.filter((task) => !task.free).reduce((sum, task) => sum + task.minutes, 0)
  const labour = labourFor(worked, charges.labourPerHour)
  if (labour > 0) {
    const perHour = formatCents(charges.labourPerHour, charges.currency, charges.locale)
    const description = `Labour, ${counted(worked, 'minute')} at ${perHour} an hour`
    lines.push({
      ...plain,
      ...taxed,
      description,
      unit: 'work',
      quantity: ONE,
      unitPrice: unitPriceOfCents(labour, digits),
    })
  }
  return lines
}

/** Labour for minutes at an hourly charge, rounded once to the cent. */
export function labourFor(workedMinutes: number, perHour: Cents): Cents {
  return cents(divideHalfAwayFromZero(BigInt(workedMinutes) * BigInt(perHour), 60n))
}

/** What was done, one sentence a task, for the foot of the invoice. */
export function workDone(tasks: readonly BillableTask[]): string[] {
  return tasks.map((task) => (task.free && task.part ? `${task.description} (free of charge)` : task.description))
}

function partLine(
  task: BillableTask,
  part: NonNullable<BillableTask['part']>,
  charges: Charges,
  digits: number,
): DraftLine {
  const pieces: Quantity = quantity(task.pieces * 1000)
  const whole = cents(part.price * task.pieces)
  return {
    description: task.free ? `${part.name}, ${part.number}, free of charge` : `${part.name}, ${part.number}`,
    unit: 'each',
    quantity: pieces,
    unitPrice: unitPriceOfCents(part.price, digits),
    allowance: task.free ? whole : NO_MONEY,
    charge: NO_MONEY,
    ...taxOf(charges, part.taxFree),
    partId: part.partId,
    visitTaskId: task.taskId,
  }
}

function taxOf(charges: Charges, taxFree: boolean): { category: TaxCategory; rate: TaxRate } {
  if (charges.taxExempt) return { category: 'exempt', rate: taxRate(0) }
  if (taxFree || charges.taxRate === 0) return { category: 'zero', rate: taxRate(0) }
  return { category: 'standard', rate: charges.taxRate }
}
