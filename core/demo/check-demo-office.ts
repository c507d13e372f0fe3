import { checkDemoWarehouse } from './check-demo-warehouse.ts'
import { isWorkday } from './demo-calendar.ts'
import type { DemoOffice } from './demo-records.ts'

/** Judge: what does not hang together in a demo office, in words; empty when all does. */
export function checkDemoOffice(office: DemoOffice): string[] {
  return [
    ...visitComplaints(office),
    ...stockComplaints(office),
    ...orderComplaints(office),
    ...checkDemoWarehouse(office),
    ...letterComplaints(office),
    ...moneyComplaints(office),
  ]
}

function visitComplaints(office: DemoOffice): string[] {
  const complaints: string[] = []
  const onDay = new Map<string, number>()
  for (const [place, visit] of office.visits.entries()) {
    const household = office.households[visit.household]
    if (!isWorkday(visit.on)) complaints.push(`visit ${place} is on a day off`)
    if (
      office.daysOff.some((off) => off.technician === visit.technician && visit.on >= off.from && visit.on <= off.until)
    )
      complaints.push(`visit ${place} is on a day its technician has off`)
    if (household && visit.on < household.since) complaints.push(`visit ${place} is older than its household`)
    if (visit.outcome === 'done' && visit.on >= office.today) complaints.push(`visit ${place} is done before its day`)
    if (visit.outcome === 'booked' && visit.on < office.today) complaints.push(`visit ${place} was forgotten`)
    const key = `${visit.technician}|${visit.on}|${visit.windowFrom}`
    onDay.set(key, (onDay.get(key) ?? 0) + 1)
    if (visit.windowUntil > 17 * 60) complaints.push(`visit ${place} is after hours`)
  }
  for (const [key, count] of onDay) if (count > 1) complaints.push(`${count} visits at once: ${key}`)
  return complaints
}

function stockComplaints(office: DemoOffice): string[] {
  const complaints: string[] = []
  const held = new Map<string, number>()
  const fitted = new Map<string, number>()
  for (const movement of office.movements) {
    const expires = office.lots[movement.lot]?.expiresOn ?? null
    if (movement.reason === 'fit' && expires !== null && expires < movement.on)
      complaints.push(`an expired lot was fitted: ${movement.lot}`)
    const change = (where: string | number, by: number) => {
      if (where === 'outside') return
      const key = `${movement.lot}|${where}`
      const now = (held.get(key) ?? 0) + by
      if (now < 0) complaints.push(`below zero: ${key} on ${movement.on}`)
      held.set(key, now)
    }
    change(movement.from, -movement.quantity)
    change(movement.to, movement.quantity)
    if (movement.reason === 'fit') {
      const key = `${movement.visit}|${movement.lot}`
      fitted.set(key, (fitted.get(key) ?? 0) + movement.quantity)
    }
  }
  for (const [place, visit] of office.visits.entries()) {
    if (visit.outcome !== 'done') continue
    for (const fitting of [...visit.fittings, ...visit.consumables])
      if (fitting.part !== null && (fitting.lot === null || (fitted.get(`${place}|${fitting.lot}`) ?? 0) < 1))
        complaints.push(`visit ${place} fitted a part that never left a van`)
  }
  return complaints
}

/** Every piece that an order counts as received is a lot of it, and the numbers of a year have no gap and no double. */
function orderComplaints(office: DemoOffice): string[] {
  const complaints: string[] = []
  const came = new Map<string, number>()
  for (const lot of office.lots) {
    const key = `${lot.order}/${lot.part}`
    came.set(key, (came.get(key) ?? 0) + lot.quantity)
  }
  const places = new Map<string, number[]>()
  for (const [place, order] of office.orders.entries()) {
    for (const line of order.lines)
      if ((came.get(`${place}/${line.part}`) ?? 0) !== line.received)
        complaints.push(`order ${order.number} counts pieces that never came`)
    if (order.sentOn > office.today || (order.receivedOn ?? 0) > office.today)
      complaints.push(`order ${order.number} is from the future`)
    const [, year = '', number] = order.number.split('-')
    places.set(year, [...(places.get(year) ?? []), Number(number)])
  }
  for (const [year, numbers] of places)
    if (numbers.toSorted((a, b) => a - b).some((number, index) => number !== index + 1))
      complaints.push(`the order numbers of ${year} have a gap or a double`)
  return complaints
}

function letterComplaints(office: DemoOffice): string[] {
  return office.letters.flatMap((letter, place) => {
    const household = office.households[letter.household]
    if (!household) return [`letter ${place} goes to nobody`]
    if (household.noMail) return [`letter ${place} goes to a household that asked for none`]
    if (household.movedOn !== null && letter.writtenOn >= household.movedOn)
      return [`letter ${place} goes to a household that has moved`]
    return letter.writtenOn > office.today ? [`letter ${place} is from the future`] : []
  })
}

function moneyComplaints(office: DemoOffice): string[] {
  const invoiced = new Map(office.invoices.map((invoice) => [invoice.visit, invoice]))
  const missing = office.visits.flatMap((visit, place) =>
    visit.outcome === 'done' && !invoiced.has(place) ? [`visit ${place} was never billed`] : [],
  )
  const early = office.payments.flatMap((payment) => {
    const issuedOn = invoiced.get(payment.visit)?.issuedOn ?? null
    return issuedOn === null || payment.on < issuedOn ? [`visit ${payment.visit} was paid before its invoice`] : []
  })
  return [...missing, ...early]
}
