import type { OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { PartId } from '../units/ids.ts'
import { gtin14, gtinFault, gtinFaultWords } from './gtin.ts'
import { findPart } from './parts-store.ts'
import { partsByGtin } from './pull-scan-store.ts'

/** Whether a part may be given this GTIN: it adds up, and no other part has it. What stood there before is left alone. */
export async function gtinMayBe(books: OpenBooks, partId: PartId | null, gtin: string): Promise<Result<void>> {
  if (gtin === '') return ok(undefined)
  const before = partId === null ? null : await findPart(books.read, books.officeId, partId)
  if (before?.gtin === gtin) return ok(undefined)
  const fault = gtinFault(gtin)
  if (fault !== null) return refused('GTIN_WRONG', { gtin, why: gtinFaultWords(fault) })
  const others = await partsByGtin(books.read, books.officeId, gtin14(gtin))
  const other = others.find((part) => part.partId !== partId)
  return other ? refused('GTIN_TAKEN', { gtin, part: other.name, number: other.number }) : ok(undefined)
}
