import type { OpenBooks } from './answering.ts'
import type { FollowUp } from './happenings.ts'

/**
 * Who listens to what happens, in this order: due dates first, then stock, then invoices.
 * Each is a `FollowUp` of its folder's answers; all run inside the teller's transaction.
 */
export const FOLLOW_UPS: readonly FollowUp<OpenBooks>[] = []
