import type { OpenBooks } from '../answering.ts'
import { buyerAddress } from '../invoices/buyer-address.ts'
import { type BillableTask, draftLines, workDone } from '../invoices/draft-invoice.ts'
import { insertDraft, markIssued, takeNumber } from '../invoices/drafts-store.ts'
import { invoiceNumber } from '../invoices/invoice-number.ts'
import { invoiceTotals } from '../invoices/invoice-totals.ts'
import { insertPayment, insertShares } from '../invoices/payments-store.ts'
import { DEFAULT_SETTINGS } from '../settings/office-settings.ts'
import { addDays, dateOfDayNumber, partsOf } from '../units/calendar-date.ts'
import type { InvoiceId } from '../units/ids.ts'
import { type Cents, cents, divideHalfAwayFromZero, minorDigits, NO_MONEY } from '../units/money.ts'
import { minutes } from '../units/time-of-day.ts'
import { demoNames } from './demo-names.ts'
import type { HouseholdKeys, WarehouseKeys } from './demo-people-store.ts'
import type { DemoInvoice, DemoOffice } from './demo-records.ts'
import type { VisitKeys } from './demo-visits-store.ts'
import { SCENARIO } from './scenario.ts'

interface MoneyKeys {
  readonly homes: HouseholdKeys
  readonly warehouse: WarehouseKeys
  readonly visits: VisitKeys
}

/** An invoice for every visit done, numbered in the order of issue, and what came in for it. `step` is told after each hundred. */
export async function insertMoney(
  books: OpenBooks,
  office: DemoOffice,
  keys: MoneyKeys,
  step: (done: number) => Promise<boolean>,
): Promise<boolean> {
  const inOrder = [...office.invoices].sort(
    (a, b) => (a.issuedOn ?? Number.MAX_SAFE_INTEGER) - (b.issuedOn ?? Number.MAX_SAFE_INTEGER),
  )
  const written = new Map<number, { invoiceId: InvoiceId; due: Cents }>()
  for (const [index, invoice] of inOrder.entries()) {
    written.set(invoice.visit, await insertInvoice(books, office, keys, invoice))
    if (index % 100 === 99 && !(await step(index + 1))) return false
  }
  for (const payment of office.payments) {
    const invoice = written.get(payment.visit)
    const visit = office.visits[payment.visit]
    if (!invoice || !visit || invoice.due === 0) continue
    const amount = cents(divideHalfAwayFromZero(BigInt(invoice.due) * BigInt(payment.hundredths), 100n))
    const paymentId = await insertPayment(books.tx, books.officeId, {
      customerId: keys.homes.customers.at(visit.household),
      receivedOn: dateOfDayNumber(payment.on),
      amount,
      method: payment.method,
      note: '',
      recordedAt: `${dateOfDayNumber(payment.on)}T15:00:00.000Z`,
      by: books.by,
      undoesId: null,
    })
    await insertShares(books.tx, books.officeId, paymentId, [{ invoiceId: invoice.invoiceId, amount }])
  }
  return true
}

async function insertInvoice(
  books: OpenBooks,
  office: DemoOffice,
  { homes, warehouse, visits }: MoneyKeys,
  invoice: DemoInvoice,
): Promise<{ invoiceId: InvoiceId; due: Cents }> {
  const visit = office.visits[invoice.visit]
  const household = visit ? office.households[visit.household] : undefined
  if (!visit || !household) throw new RangeError(`The demo has no visit at ${invoice.visit}`)
  const town = SCENARIO.towns[household.town]
  const { currency, locale, taxRate, callOutCents, labourCentsPerHour, paymentTermsDays } = DEFAULT_SETTINGS
  const tasks = (visits.tasksOf.get(invoice.visit) ?? []).map((task): BillableTask => {
    const part = task.part === null ? null : SCENARIO.parts[task.part]
    return {
      taskId: task.taskId,
      kind: part ? 'change' : 'sanitise',
      description: task.description,
      part:
        part && task.part !== null
          ? {
              partId: warehouse.parts.at(task.part),
              number: part.number,
              name: part.name,
              price: cents(part.price),
              taxFree: false,
            }
          : null,
      pieces: 1,
      minutes: minutes(part ? part.minutes : 25),
      free: false,
    }
  })
  const charges = {
    currency,
    locale,
    callOut: callOutCents,
    labourPerHour: labourCentsPerHour,
    taxRate,
    taxExempt: false,
  }
  const lines = draftLines(
    { doneOn: dateOfDayNumber(visit.on), town: town?.name ?? '', callFree: false, tasks },
    charges,
  )
  const address = buyerAddress(
    {
      letterName: demoNames(household).letterName,
      line1: household.line1,
      line2: '',
      town: town?.name ?? '',
      region: 'XX',
      postalCode: town?.postalCode ?? '',
      country: '',
    },
    locale,
  )
  const invoiceId = await insertDraft(
    books.tx,
    books.officeId,
    {
      kind: 'invoice',
      customerId: homes.customers.at(visit.household),
      siteId: homes.sites.at(visit.household),
      visitId: visits.visits.at(invoice.visit),
      correctsId: null,
      currency,
      draftedOn: dateOfDayNumber(invoice.draftedOn),
      suppliedOn: dateOfDayNumber(visit.on),
      buyerAddress: address,
      buyerReference: household.reference,
      note: workDone(tasks).join('\n'),
      taxExempt: false,
    },
    { lines, documentAmounts: [] },
  )
  const { due } = invoiceTotals({ lines, documentAmounts: [], minorDigits: minorDigits(currency) })
  if (invoice.issuedOn === null) return { invoiceId, due }
  const issuedOn = dateOfDayNumber(invoice.issuedOn)
  const { year } = partsOf(issuedOn)
  const number = await takeNumber(books.tx, books.officeId, year)
  await markIssued(books.tx, books.officeId, invoiceId, {
    year,
    number,
    numberText: invoiceNumber(year, number),
    issuedOn,
    payBy: addDays(issuedOn, paymentTermsDays),
    buyerAddress: address,
    taxExempt: false,
    prepaid: NO_MONEY,
    due,
    issuedAt: `${issuedOn}T14:00:00.000Z`,
    issuedBy: books.by,
  })
  return { invoiceId, due }
}
