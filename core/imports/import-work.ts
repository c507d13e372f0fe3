import { z } from 'zod'
import type { OpenBooks } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import { ok, type Result, refused } from '../result.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { counted } from '../units/date-words.ts'
import type { CustomerId, OfficeId, SiteId } from '../units/ids.ts'
import { namedWork, type WorkDesk } from '../work/work.ts'
import { checkImportPlan } from './check-import-plan.ts'
import type { ListSheet } from './find-sheet.ts'
import { endHeldList, findHeldList, openHeldList, rememberMapping } from './held-lists-store.ts'
import { type JudgedListAnswer, type Taken, takeInputSchema } from './imports-contract.ts'
import { joinHousehold } from './join-households-store.ts'
import { bringsInWords, householdKey, type JudgedList, judgeListInSteps } from './judge-list.ts'
import type { JudgedEntry } from './judged-entry.ts'
import { keepJudgement } from './judgements-store.ts'
import { readKnownHouseholds, readPartNumbers, readReferences } from './known-households-store.ts'
import type { OfficeManner } from './list-manner.ts'
import { type ListMapping, listMappingSchema, mappingGaps, mappingRemarks, toRemember } from './list-mapping.ts'
import { type ImportPlan, planImport } from './plan-import.ts'
import { type WritingPlace, writeFreshHouseholds } from './write-households-store.ts'

interface ListAndJudgement {
  readonly name: string
  readonly sheet: ListSheet
  readonly judged: JudgedList
}

interface Asked {
  readonly read: ReadDb
  readonly officeId: OfficeId
  readonly today: CalendarDate
}

/** Reads and judges a held list against the books as they are now, saying how far it is. */
async function judgeHeld(
  progress: WorkDesk['progress'],
  { read, officeId, today }: Asked,
  fileId: number,
  mapping: ListMapping,
): Promise<Result<ListAndJudgement>> {
  if (!(await progress({ done: 0, total: 0, saying: 'reading the list' }))) return refused('WORK_STOPPED')
  const opened = await openHeldList(read, officeId, fileId, today)
  if (!opened.ok) return opened
  const { sheet, name } = opened.value
  const [gap] = mappingGaps(sheet.columns, mapping)
  if (gap !== undefined) return refused('IMPORT_MAPPING_OPEN', { gap })
  const settings = await readSettings(read, officeId)
  const office = await findOffice(read, officeId)
  const manner: OfficeManner = {
    locale: settings.locale,
    measures: settings.measures,
    country: office?.country ?? '',
    today,
  }
  const reckoning = judgeListInSteps(sheet, mapping, manner, await readKnownHouseholds(read, officeId))
  for (;;) {
    const step = reckoning.next()
    if (step.done) return ok({ name, sheet, judged: step.value })
    if (!(await progress(step.value))) return refused('WORK_STOPPED')
  }
}

/** Judges every row of a held list, and keeps what was judged beside it; writes nothing else. */
export const importJudgeWork = namedWork({
  input: z.object({ fileId: z.int(), mapping: listMappingSchema }),
  run: async (desk, { fileId, mapping }): Promise<Result<JudgedListAnswer>> => {
    const result = await judgeHeld(desk.progress, desk, fileId, mapping)
    if (!result.ok) return result
    const { sheet, judged } = result.value
    const rows = sheet.rows.length
    if (!(await desk.progress({ done: rows, total: rows, saying: 'laying out what was judged' })))
      return refused('WORK_STOPPED')
    const entries = entriesOf(sheet, judged)
    const kept = await desk.write(async (books) => {
      if ((await findHeldList(books.read, books.officeId, fileId)) === null) return refused('IMPORT_FILE_GONE')
      return ok(await keepJudgement(books.tx, books.officeId, fileId, entries))
    })
    if (!kept.ok) return kept
    return ok({
      columns: [...sheet.columns],
      entries: entries.length,
      pages: kept.value,
      said: [...judged.said],
      remarks: mappingRemarks(mapping),
      openDates: judged.openDates,
    })
  },
})

/** Households and refused rows in the order of the list. */
function entriesOf(sheet: ListSheet, { households, refused: refusedRows }: JudgedList): JudgedEntry[] {
  const cellsByLine = new Map(sheet.rows.map((row) => [row.line, row.cells]))
  const taken = households.map(({ household, likeness }): JudgedEntry => {
    const { address } = household
    return {
      key: householdKey(household),
      lines: [...household.lines],
      kind: 'household',
      name: household.names.sortName,
      place: [address.line1, address.town].filter((part) => part !== '').join(', '),
      brings: bringsInWords(household),
      likeness:
        likeness === null
          ? null
          : {
              called: likeness.called,
              because: likeness.because,
              inBooks: likeness.whom.in === 'books',
              advice: likeness.advice,
            },
      findings: [...household.notes],
      cells: [],
      rank: null,
    }
  })
  const out = refusedRows.map(({ line, findings, rank }): JudgedEntry => {
    const cells = [...(cellsByLine.get(line) ?? [])]
    const name = cells
      .filter((cell) => cell.trim() !== '')
      .slice(0, 2)
      .join(', ')
      .slice(0, 80)
    return {
      key: `refused ${line}`,
      lines: [line],
      kind: 'refused',
      name,
      place: '',
      brings: '',
      likeness: null,
      findings: [...findings],
      cells,
      rank,
    }
  })
  return [...taken, ...out].sort((a, b) => (a.lines[0] ?? 0) - (b.lines[0] ?? 0))
}

/** Takes a judged list into the books: all of it, or nothing when it is stopped or fails. */
export const importTakeWork = namedWork({
  input: takeInputSchema,
  run: async (desk, input): Promise<Result<Taken>> => {
    return desk.write(async (books): Promise<Result<Taken>> => {
      const office = await findOffice(books.read, books.officeId)
      if (office === null) return refused('IMPORT_NO_OFFICE')
      const result = await judgeHeld(desk.progress, books, input.fileId, input.mapping)
      if (!result.ok) return result
      const { name, sheet, judged } = result.value
      const numbersInBooks = await readReferences(books.read, books.officeId)
      const plan = planImport(judged.households, input.choices, numbersInBooks)
      if (plan.fresh.length !== input.expected) return refused('IMPORT_CHANGED')
      if (plan.fresh.length + plan.joined.length === 0) return refused('IMPORT_NOTHING')
      const complaints = checkImportPlan({ sheet, judged, chosen: input.choices, numbersInBooks, plan })
      if (complaints.length > 0) throw new Error(`An unlawful import of ${name}: ${complaints.slice(0, 5).join(' ')}`)
      const written = await writePlan(desk, books, plan, office.country, numbersInBooks)
      if (!written.ok) return written
      await rememberMapping(
        books.tx,
        books.officeId,
        sheet.columns,
        toRemember(sheet.columns, input.mapping),
        books.now,
      )
      await endHeldList(books.tx, books.officeId, input.fileId, 'taken', books.now)
      const taken: Taken = { ...written.value, leftOut: plan.tally.leftOut, refused: judged.refused.length }
      await books.record({
        subjectKind: 'import',
        subjectId: input.fileId,
        verb: 'taken in',
        sentence: `${counted(taken.fresh, 'household')} taken in from ${name}`,
        details: `${counted(taken.joined, 'household')} in the books told more; ${counted(taken.refused, 'row')} refused; ${taken.leftOut} left out`,
      })
      return ok(taken)
    })
  },
})

/** New households to a step, and households to a reckoning of due dates. */
const STEP = 500

async function writePlan(
  desk: WorkDesk,
  books: OpenBooks,
  plan: ImportPlan,
  country: string,
  references: Set<string>,
): Promise<Result<Pick<Taken, 'fresh' | 'joined' | 'unchanged' | 'stages'>>> {
  const { tx, read, dialect, officeId, today } = books
  const total = plan.fresh.length + plan.joined.length
  const place: WritingPlace = {
    tx,
    read,
    dialect,
    officeId,
    today,
    country,
    parts: await readPartNumbers(read, officeId),
    references,
  }
  const going = (done: number, saying: string): Promise<boolean> => desk.progress({ done, total: total * 2, saying })
  const sites: SiteId[] = []
  const customerIds: CustomerId[] = []
  for (let from = 0; from < plan.fresh.length; from += STEP) {
    sites.push(...(await writeFreshHouseholds(place, plan.fresh.slice(from, from + STEP), customerIds)))
    if (
      !(await going(
        sites.length,
        `${counted(sites.length, 'household')} of ${plan.fresh.length.toLocaleString('en-US')} written`,
      ))
    )
      return refused('WORK_STOPPED')
  }
  let joined = 0
  for (const [index, household] of plan.joined.entries()) {
    if (await joinHousehold(place, household)) {
      joined += 1
      sites.push(household.siteId)
    }
    if (index % STEP === 0 && !(await going(plan.fresh.length + index, 'adding to households in the books')))
      return refused('WORK_STOPPED')
  }
  for (let from = 0; from < sites.length; from += STEP) {
    const happened = await books.happened({ kind: 'sites-changed', siteIds: sites.slice(from, from + STEP) })
    if (!happened.ok) return happened
    if (!(await going(total + from, `due dates of ${counted(from + STEP, 'household')} reckoned`)))
      return refused('WORK_STOPPED')
  }
  const stages = plan.fresh.reduce(
    (sum, { household }) => sum + household.units.reduce((all, unit) => all + unit.stages.length, 0),
    0,
  )
  return ok({ fresh: plan.fresh.length, joined, unchanged: plan.joined.length - joined, stages })
}
