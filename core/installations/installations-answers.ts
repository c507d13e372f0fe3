import { implement } from '@orpc/server'
import type { z } from 'zod'
import { answer, type Desk, type OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { longDate } from '../units/date-words.ts'
import type { SiteId } from '../units/ids.ts'
import { type InstallationFields, installationsContract, type StageFields } from './installations-contract.ts'
import {
  findUnit,
  forgetFittedLot,
  insertUnit,
  type KeptUnit,
  listStageParts,
  putStages,
  removeUnit,
  siteExists,
  updateUnit,
} from './installations-store.ts'
import { STAGE_KIND_WORDS } from './stage-kinds.ts'
import { unitChangesInWords } from './unit-words.ts'

type Inputs = {
  [Name in keyof typeof installationsContract]: z.infer<
    NonNullable<(typeof installationsContract)[Name]['~orpc']['inputSchema']>
  >
}

function create(desk: Desk, { siteId, fields, stages }: Inputs['create']) {
  return desk.write(async (books) => {
    if (!(await siteExists(books.read, books.officeId, siteId)))
      return refused('RECORD_GONE', { what: 'This household' })
    if (stages.some((stage) => stage.stageId !== null)) return refused('RECORD_GONE', { what: 'A stage of this unit' })
    const dates = await datesHold(books, null, fields, stages)
    if (!dates.ok) return dates
    const installationId = await insertUnit(books.tx, books.officeId, siteId, fields)
    await putStages(books.tx, books.officeId, installationId, [], stages, books.today)
    await logged(books, siteId, installationId, 'added', `${fields.name} was added`)
    const told = await books.happened({ kind: 'sites-changed', siteIds: [siteId] })
    return told.ok ? ok({ installationId }) : told
  })
}

function save(desk: Desk, { installationId, fields, stages, seen }: Inputs['save']) {
  return desk.write(async (books) => {
    const now = await findUnit(books.read, books.officeId, installationId, books.today)
    if (!now) return refused('RECORD_GONE', { what: seen.fields.name })
    const meanwhile = unitChangesInWords(seen, now)
    if (meanwhile !== null) return refused('RECORD_CHANGED', { what: now.fields.name, changes: meanwhile })
    const known = now.stages.map((stage) => stage.stageId)
    if (stages.some((stage) => stage.stageId !== null && !known.includes(stage.stageId)))
      return refused('RECORD_GONE', { what: 'A stage of this unit' })
    const changes = unitChangesInWords(now, { fields, stages })
    if (changes === null) return ok({ installationId })
    const dates = await datesHold(books, now, fields, stages)
    if (!dates.ok) return dates
    await updateUnit(books.tx, books.officeId, installationId, fields)
    await putStages(books.tx, books.officeId, installationId, known, stages, books.today)
    await forgetFittedLot(books.tx, books.officeId, withOtherPart(now, stages))
    await logged(books, now.siteId, installationId, 'changed', `${fields.name} was changed`, changes)
    const told = await books.happened({ kind: 'sites-changed', siteIds: [now.siteId] })
    return told.ok ? ok({ installationId }) : told
  })
}

function remove(desk: Desk, { installationId, reason }: Inputs['remove']) {
  return desk.write(async (books) => {
    const now = await findUnit(books.read, books.officeId, installationId, books.today)
    if (!now) return refused('RECORD_GONE', { what: 'This unit' })
    await removeUnit(books.tx, books.officeId, installationId, books.today)
    await logged(books, now.siteId, installationId, 'taken out', `${now.fields.name} was taken out: ${reason}`)
    const told = await books.happened({ kind: 'sites-changed', siteIds: [now.siteId] })
    return told.ok ? ok({ installationId }) : told
  })
}

/**
 * Nothing was done on a day that has not come, and no date set by hand has ended already. What stood in the books before is let be: an odd
 * date from a list is pointed out on the household's sheet and does not stand in the way of another change.
 */
async function datesHold(
  { today, read, officeId }: OpenBooks,
  now: KeptUnit | null,
  fields: InstallationFields,
  stages: readonly StageFields[],
): Promise<Result<void>> {
  const { locale } = await readSettings(read, officeId)
  const said = (date: CalendarDate | null) => (date === null ? '' : longDate(date, locale))
  const isAhead = (date: CalendarDate | null, before: CalendarDate | null | undefined) =>
    date !== null && date > today && date !== before
  if (isAhead(fields.fittedOn, now?.fields.fittedOn))
    return refused('UNIT_DATE_AHEAD', { what: `${fields.name} was fitted`, date: said(fields.fittedOn) })
  for (const stage of stages) {
    const before = now?.stages.find(({ stageId }) => stageId === stage.stageId)
    const name = stage.label === '' ? STAGE_KIND_WORDS[stage.kind].name : stage.label
    if (isAhead(stage.changedOn, before?.changedOn))
      return refused('UNIT_DATE_AHEAD', { what: `${name} was changed`, date: said(stage.changedOn) })
    if (stage.ownDueOn !== null && stage.ownDueEndsOn !== null && stage.ownDueEndsOn < today)
      return refused('UNIT_OWN_DATE_OVER', { what: name, date: said(stage.ownDueEndsOn) })
  }
  return ok(undefined)
}

/** Stages whose part or date is another than before: what lot is in them is not known any more. */
function withOtherPart(now: KeptUnit, stages: readonly StageFields[]) {
  return now.stages
    .filter((before) =>
      stages.some(
        (stage) =>
          stage.stageId === before.stageId && (stage.partId !== before.partId || stage.changedOn !== before.changedOn),
      ),
    )
    .map((stage) => stage.stageId)
}

function logged(
  books: OpenBooks,
  siteId: SiteId,
  installationId: number,
  verb: string,
  sentence: string,
  details = '',
): Promise<void> {
  return books.record({ subjectKind: 'installation', subjectId: installationId, siteId, verb, sentence, details })
}

const door = implement(installationsContract).$context<Desk>()
export const installationsAnswers = door.router({
  create: door.create.handler(answer(create)),
  save: door.save.handler(answer(save)),
  remove: door.remove.handler(answer(remove)),
  parts: door.parts.handler(answer(async (desk) => ok(await listStageParts(desk.read, desk.officeId)))),
})
