import { backupsContract } from './backups/backups-contract.ts'
import { householdsContract } from './customers/customers-contract.ts'
import { deskContract } from './desk/desk-contract.ts'
import { dueContract } from './due/due-contract.ts'
import { importsContract } from './imports/imports-contract.ts'
import { installationsContract } from './installations/installations-contract.ts'
import { invoicesContract } from './invoices/invoices-contract.ts'
import { lettersContract } from './letters/letters-contract.ts'
import { recallLettersContract } from './letters/recall-letters-contract.ts'
import { ordersContract } from './orders/orders-contract.ts'
import { worthContract } from './orders/worth-contract.ts'
import { routesContract } from './routes/routes-contract.ts'
import { officeContract } from './settings/office-contract.ts'
import { settingsContract } from './settings/settings-contract.ts'
import { countContract } from './stock/count-contract.ts'
import { labelsContract } from './stock/labels-contract.ts'
import { pullContract } from './stock/pull-contract.ts'
import { putAwayContract } from './stock/put-away-contract.ts'
import { recallContract } from './stock/recall-contract.ts'
import { stockContract } from './stock/stock-contract.ts'
import { walkContract } from './stock/walk-contract.ts'
import { visitsContract } from './visits/visits-contract.ts'
import { workContract } from './work/work-contract.ts'

/** Everything that can be asked of the office, by job word. Each folder adds its own contract here. */
export const contract: Contract = {
  due: dueContract,
  households: householdsContract,
  installations: installationsContract,
  backups: backupsContract,
  desk: deskContract,
  imports: importsContract,
  invoices: invoicesContract,
  letters: lettersContract,
  office: officeContract,
  settings: settingsContract,
  orders: ordersContract,
  routes: routesContract,
  visits: visitsContract,
  counts: countContract,
  labels: labelsContract,
  pull: pullContract,
  recall: recallContract,
  recallLetters: recallLettersContract,
  putAway: putAwayContract,
  walk: walkContract,
  stock: stockContract,
  worth: worthContract,
  work: workContract,
}

/** Written out, so that the compiler names each part instead of spelling out the whole. */
export type Contract = {
  readonly due: typeof dueContract
  readonly households: typeof householdsContract
  readonly installations: typeof installationsContract
  readonly backups: typeof backupsContract
  readonly desk: typeof deskContract
  readonly imports: typeof importsContract
  readonly invoices: typeof invoicesContract
  readonly letters: typeof lettersContract
  readonly office: typeof officeContract
  readonly settings: typeof settingsContract
  readonly orders: typeof ordersContract
  readonly routes: typeof routesContract
  readonly visits: typeof visitsContract
  readonly counts: typeof countContract
  readonly labels: typeof labelsContract
  readonly pull: typeof pullContract
  readonly recall: typeof recallContract
  readonly recallLetters: typeof recallLettersContract
  readonly putAway: typeof putAwayContract
  readonly walk: typeof walkContract
  readonly stock: typeof stockContract
  readonly worth: typeof worthContract
  readonly work: typeof workContract
}
