import { implement } from '@orpc/server'
import type { z } from 'zod'
import { answer, type Desk, type OpenBooks } from '../answering.ts'
import { ok, refused } from '../result.ts'
import type { SiteId } from '../units/ids.ts'
import { installationsContract, type StageFields } from './installations-contract.ts'
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
