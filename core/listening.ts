import type { OpenBooks } from './answering.ts'
import { searchFollowUp } from './customers/households-answers.ts'
import { dueFollowUp } from './due/recompute-answers.ts'
import type { FollowUp } from './happenings.ts'
import { billVisits } from './invoices/bill-visit-answers.ts'
import { ordersFollowUp } from './orders/receive-order-answers.ts'
import { routesFollowUp } from './routes/day-order-answers.ts'
import { stockFollowUp } from './stock/after-visit-answers.ts'
import { planFollowUp } from './visits/replan-answers.ts'

/**
 * Who listens to what happens, in this order: due dates first, then the plans of visits, then the order of the day, then stock, then orders, then invoices.
 * Each is a `FollowUp` of its folder's answers; all run inside the teller's transaction.
 */
export const FOLLOW_UPS: readonly FollowUp<OpenBooks>[] = [
  searchFollowUp,
  dueFollowUp,
  planFollowUp,
  routesFollowUp,
  stockFollowUp,
  ordersFollowUp,
  billVisits,
]
