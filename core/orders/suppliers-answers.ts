import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { listParts } from '../stock/parts-store.ts'
import type { PartId, SupplierId } from '../units/ids.ts'
import type { SaveSupplier, SaveTerm, SoldPart, SupplierRow, TermRow } from './order-shapes.ts'
import { insertSupplier, listSuppliers, listTerms, updateSupplier, writeTerm } from './suppliers-store.ts'

export async function suppliers(desk: Desk): Promise<Result<SupplierRow[]>> {
  return ok(await listSuppliers(desk.read, desk.officeId))
}

export function saveSupplier(desk: Desk, input: SaveSupplier): Promise<Result<{ supplierId: SupplierId }>> {
  const { supplierId, version, ...fields } = input
  return desk.write(async (books) => {
    const { tx, read, officeId, today } = books
    const known = await listSuppliers(read, officeId)
    const namesake = known.find((each) => each.name === input.name && each.supplierId !== supplierId)
    if (namesake) return refused('SUPPLIER_NAME_TAKEN', { name: input.name })
    if (supplierId === null) return ok({ supplierId: await insertSupplier(tx, officeId, fields, today) })
    const saved = await updateSupplier(tx, officeId, { supplierId, version: version ?? 0 }, fields, today)
    const sentence = `${input.name} changed`
    if (!saved) return refused('RECORD_CHANGED', { what: input.name, changes: 'its entries' })
    await books.record({ subjectKind: 'supplier', subjectId: supplierId, verb: 'changed', sentence })
    return ok({ supplierId })
  })
}

export async function soldBy(desk: Desk, { supplierId }: { supplierId: SupplierId }): Promise<Result<SoldPart[]>> {
  const own = (await listTerms(desk.read, desk.officeId)).filter((each) => each.supplierId === supplierId)
  const termOf = new Map(own.map((each) => [each.partId, each]))
  const parts = await listParts(desk.read, desk.officeId)
  return ok(
    parts.flatMap((part) => {
      const term = termOf.get(part.partId)
      if (!term || part.closedOn !== null) return []
      const { supplierNumber, price, packSize, minimumQuantity, breaks } = term
      const named = { partId: part.partId, number: part.number, name: part.name }
      return [{ part: named, supplierNumber, price, packSize, minimumQuantity, breaks }]
    }),
  )
}

export async function terms(desk: Desk, input: { partId: PartId }): Promise<Result<TermRow[]>> {
  const all = await listTerms(desk.read, desk.officeId)
  return ok(
    all.filter((term) => term.partId === input.partId).map(({ leadTimeDays: _, reviewDays: __, ...term }) => term),
  )
}

export function saveTerm(desk: Desk, input: SaveTerm): Promise<Result<{ partId: PartId }>> {
  const doubled = input.breaks.find(
    (step, index) => input.breaks.findIndex((other) => other.from === step.from) < index,
  )
  if (doubled) return Promise.resolve(refused('TERM_BREAK_TWICE', { from: doubled.from }))
  return desk.write(async (books) => {
    await writeTerm(books.tx, books.officeId, input)
    const sentence = 'The terms of a supplier for it changed'
    await books.record({ subjectKind: 'part', subjectId: input.partId, verb: 'changed', sentence })
    return ok({ partId: input.partId })
  })
}
