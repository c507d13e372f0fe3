import type { HouseholdRow } from '../../core/customers/customers-contract.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { DateText } from '../design/Words.tsx'

/** The columns of the ledger of households. Their ids are what the office sorts by. */
export const householdColumns: readonly TableColumn<HouseholdRow>[] = [
  {
    id: 'household',
    header: 'Household',
    value: (row) => row.household,
    cell: (row) => <b>{row.household}</b>,
    width: { share: 3, least: 170 },
    fixed: true,
  },
  { id: 'line1', header: 'Street', value: (row) => row.line1, width: { share: 2, least: 130 }, sorts: false },
  { id: 'town', header: 'Town', value: (row) => row.town, width: { share: 1, least: 100 } },
  { id: 'phone', header: 'Telephone', value: (row) => row.phone, width: 112, sorts: false },
  {
    id: 'dueOn',
    header: 'Due',
    value: (row) => row.dueOn,
    cell: (row) =>
      row.closed ? (
        <span className="second">closed</span>
      ) : row.dueOn === null ? (
        <span className="second">no date</span>
      ) : (
        <DateText date={row.dueOn} />
      ),
    width: 108,
  },
  { id: 'reference', header: 'Reference', value: (row) => row.reference, width: 92, sorts: false },
  { id: 'email', header: 'E-mail', value: (row) => row.email, width: 180, sorts: false, hidden: true },
  { id: 'postalCode', header: 'Postal code', value: (row) => row.postalCode, width: 90, sorts: false, hidden: true },
  {
    id: 'mail',
    header: 'Mail',
    value: (row) => (row.moved ? 'has moved' : row.noMail ? 'no mail' : 'takes mail'),
    width: 90,
    sorts: false,
    hidden: true,
  },
]
