import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { searchWordsOf } from '../customers/search-words.ts'
import { ok, type Result } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { shortDate } from '../units/date-words.ts'
import { formatCents } from '../units/money.ts'
import { keptLookAhead } from '../visits/look-ahead-answers.ts'
import { deskContract, type Found, type NextAction } from './desk-contract.ts'
import { figures } from './figures-answers.ts'
import { findHouseholds, findInvoices, findOrders, findParts } from './find-store.ts'
import { nextActions, trayLine } from './tray-words.ts'
import type { Tray } from './trays.ts'

async function trays(desk: Desk): Promise<Result<Tray[]>> {
  return ok(trayLine(await desk.kept.ask(figures, desk)))
}

async function next(desk: Desk): Promise<Result<NextAction[]>> {
  return ok(nextActions(await desk.kept.ask(figures, desk)))
}

async function find(desk: Desk, { typed }: { typed: string }): Promise<Result<Found[]>> {
  const words = searchWordsOf(typed)
  const bare = typed.trim()
  if (words.length === 0 || bare.length < 2) return ok([])
  const { read, officeId, dialect } = desk
  const { locale } = await readSettings(read, officeId)
  const households = await findHouseholds(read, dialect, officeId, words)
  const [invoices, parts, orders] = [
    await findInvoices(read, officeId, bare),
    await findParts(read, officeId, bare),
    await findOrders(read, officeId, bare),
  ]
  return ok([
    ...households.map(
      (row): Found => ({
        kind: 'household',
        id: row.siteId,
        words: row.name,
        below: joined(row.street, row.town, row.phone),
      }),
    ),
    ...invoices.map(
      (row): Found => ({
        kind: 'invoice',
        id: row.id,
        words: `${row.kind === 'invoice' ? 'Invoice' : 'Credit note'} ${row.number}`,
        below: joined(
          row.name,
          formatCents(row.gross, row.currency, locale),
          row.issuedOn === null ? '' : shortDate(row.issuedOn, locale),
        ),
      }),
    ),
    ...parts.map((row): Found => ({ kind: 'part', id: row.id, words: row.name, below: `part ${row.number}` })),
    ...orders.map((row): Found => ({ kind: 'order', id: row.id, words: `Order ${row.number}`, below: row.supplier })),
  ])
}

function joined(...pieces: readonly string[]): string {
  return pieces.filter((piece) => piece !== '').join(' · ')
}

const door = implement(deskContract).$context<Desk>()
export const deskAnswers = door.router({
  trays: door.trays.handler(answer((desk) => trays(desk))),
  next: door.next.handler(answer((desk) => next(desk))),
  lookAhead: door.lookAhead.handler(answer(async (desk) => ok(await desk.kept.ask(keptLookAhead, desk)))),
  find: door.find.handler(answer(find)),
})
