import type { OpenBooks } from '../answering.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import type { ComposedLetter } from '../letters/compose-letter.ts'
import type { LetterKind } from '../letters/letter-kinds.ts'
import type { LetterWording } from '../letters/letter-wording.ts'
import { runSender } from '../letters/run-sender.ts'
import { senderColumns } from '../letters/runs-store.ts'
import { DEFAULT_SETTINGS } from '../settings/office-settings.ts'
import { type CalendarDate, type DayNumber, dateOfDayNumber } from '../units/calendar-date.ts'
import { dayAndMonth } from '../units/date-words.ts'
import { letterIdSchema, letterRunIdSchema } from '../units/ids.ts'
import { NO_MONEY } from '../units/money.ts'
import { demoKeys } from './demo-keys.ts'
import { composeDemoLetter } from './demo-letters.ts'
import type { HouseholdKeys } from './demo-people-store.ts'
import type { DemoOffice } from './demo-records.ts'
import { insertRows } from './demo-rows-store.ts'
import { SCENARIO } from './scenario.ts'

/** The letters of five years, in Monday runs. */
export async function insertLetters(
  books: OpenBooks,
  office: DemoOffice,
  homes: HouseholdKeys,
  wordings: Readonly<Record<LetterKind, LetterWording>>,
): Promise<void> {
  const { tx, dialect, officeId: office_id } = books
  const days = [...new Set(office.letters.map((letter) => letter.writtenOn))].sort((a, b) => a - b)
  const runs = demoKeys('run', await reserveIds(tx, dialect, 'letter_runs', days.length), letterRunIdSchema)
  const { locale, pageSize, windowEnvelope, currency } = DEFAULT_SETTINGS
  const sender = senderColumns(runSender(SCENARIO.office, DEFAULT_SETTINGS))
  await insertRows(
    tx,
    'letter_runs',
    days.map((day, place) => ({
      id: runs.at(place),
      office_id,
      name: `run of ${dayAndMonth(dateOfDayNumber(day), locale)}`,
      written_on: dateOfDayNumber(day),
      written_at: `${dateOfDayNumber(day)}T09:30:00.000Z`,
      by_whom: books.by,
      letters: office.letters.filter((letter) => letter.writtenOn === day).length,
      page_size: pageSize,
      window_envelope: windowEnvelope,
      taken_back_reason: '',
      ...sender,
    })),
  )
  const letters = demoKeys('letter', await reserveIds(tx, dialect, 'letters', office.letters.length), letterIdSchema)
  const inRun = new Map<DayNumber, number>()
  const written = new Map<number, CalendarDate>()
  const composed = office.letters.map((letter, place) => {
    const household = office.households[letter.household]
    if (!household) throw new RangeError(`The demo has no household at ${letter.household}`)
    const text = composeDemoLetter(
      letter,
      household,
      keysOf(homes, letter.household),
      letter.kind === 'first' ? null : (written.get(letter.household) ?? null),
      wordings[letter.kind],
    )
    written.set(letter.household, dateOfDayNumber(letter.writtenOn))
    const position = (inRun.get(letter.writtenOn) ?? 0) + 1
    inRun.set(letter.writtenOn, position)
    return { letter, text, position, id: letters.at(place), run: runs.at(days.indexOf(letter.writtenOn)) }
  })
  await insertRows(
    tx,
    'letters',
    composed.map(({ letter, text, position, id, run }) => ({
      id,
      office_id,
      run_id: run,
      customer_id: homes.customers.at(letter.household),
      site_id: homes.sites.at(letter.household),
      kind: letter.kind,
      written_on: dateOfDayNumber(letter.writtenOn),
      due_on: dateOfDayNumber(letter.dueOn),
      position,
      reference: text.household.reference,
      address: text.addressLines.join('\n'),
      salutation: text.household.salutation,
      subject: text.subject,
      body: text.body,
      answer: text.answer,
      cautions: text.cautions,
      currency,
      net_cents: text.price.netCents,
      tax_cents: text.price.taxCents,
      total_cents: text.price.totalCents,
    })),
  )
  await insertRows(
    tx,
    'letter_stages',
    composed.flatMap(({ text, id }) => stageRows(office_id, id, text)),
  )
}

function stageRows(
  office_id: OpenBooks['officeId'],
  letter_id: ReturnType<typeof letterIdSchema.parse>,
  text: ComposedLetter,
) {
  return text.stages.map(({ stage, due }, index) => ({
    office_id,
    letter_id,
    position: index + 1,
    stage_id: stage.stageId,
    kind: stage.kind,
    label: stage.label,
    due_on: stage.dueOn,
    life_left: stage.lifeLeft,
    days_late: stage.daysLate,
    reason: stage.dueReason,
    due: due ? (1 as const) : (0 as const),
    price_cents: due ? (stage.priceCents ?? NO_MONEY) : NO_MONEY,
    installation_id: stage.installationId,
    unit: stage.unit,
  }))
}

function keysOf(homes: HouseholdKeys, household: number) {
  return {
    customerId: homes.customers.at(household),
    siteId: homes.sites.at(household),
    installationOf: (unit: number) => homes.installationOf(household, unit),
    stageOf: (stage: number) => homes.stageOf(household, stage),
  }
}
