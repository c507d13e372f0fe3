import type { z } from 'zod'
import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { PartId, SupplierId } from '../units/ids.ts'
import type { SupplierRow, saveSupplierSchema, saveTermSchema, TermRow } from './orders-contract.ts'
import { insertSupplier, listSuppliers, listTerms, updateSupplier, writeTerm } from './suppliers-store.ts'

export async function suppliers(desk: Desk): Promise<Result<SupplierRow[]>> {
  return ok(await listSuppliers(desk.read, desk.officeId))
}

export function saveSupplier(
  desk: Desk,
  input: z.infer<typeof saveSupplierSchema>,
): Promise<Result<{ supplierId: SupplierId }>> {
  return desk.write(async (books) => {
    const known = await listSuppliers(books.read, books.officeId)
    const namesake = known.find((each) => each.name === input.name && each.supplierId !== input.supplierId)
    if (namesake) return refused('SUPPLIER_NAME_TAKEN', { name: input.name })
    if (input.supplierId === null) return ok({ supplierId: await insertSupplier(books.tx, books.officeId, input) })
    const saved = await updateSupplier(books.tx, books.officeId, input.supplierId, input.version ?? 0, input)
    const sentence = `${input.name} changed`
    if (!saved) return refused('RECORD_CHANGED', { what: input.name, changes: 'its entries' })
    await books.record({ subjectKind: 'supplier', subjectId: input.supplierId, verb: 'changed', sentence })
    return ok({ supplierId: input.supplierId })
  })
}

export async function terms(desk: Desk, input: { partId: PartId }): Promise<Result<TermRow[]>> {
  const all = await listTerms(desk.read, desk.officeId)
  return ok(
    all.filter((term) => term.partId === input.partId).map(({ leadTimeDays: _, reviewDays: __, ...term }) => term),
  )
}

export function saveTerm(desk: Desk, input: z.infer<typeof saveTermSchema>): Promise<Result<{ partId: PartId }>> {
  return desk.write(async (books) => {
    await writeTerm(books.tx, books.officeId, input)
    const sentence = 'The terms of a supplier for it changed'
    await books.record({ subjectKind: 'part', subjectId: input.partId, verb: 'changed', sentence })
    return ok({ partId: input.partId })
  })
}
