import type { Generated } from 'kysely'
import type { StageKind } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type {
  ContactId,
  CustomerId,
  EventId,
  InstallationId,
  InvoiceId,
  LetterId,
  LetterRunId,
  LotId,
  MovementId,
  OfficeId,
  PartId,
  PaymentId,
  PlaceId,
  PullId,
  PullLineId,
  PurchaseOrderId,
  PurchaseOrderLineId,
  ReadingId,
  SiteId,
  StageId,
  SupplierId,
  TechnicianId,
  VanId,
  VisitId,
  VisitTaskId,
} from '../units/ids.ts'
import type { Celsius, Hardness, Kilopascals, Millilitres, MillilitresPerMinute, Tds } from '../units/measures.ts'
import type { Cents, TaxRate } from '../units/money.ts'
import type { Minutes, TimeOfDay } from '../units/time-of-day.ts'

/** 0 no, 1 yes: the same on both databases. */
export type Flag = 0 | 1

export interface BalancesTable {
  office_id: OfficeId
  lot_id: LotId
  place_id: PlaceId
  quantity: number
}

export interface ContactsTable {
  id: Generated<ContactId>
  office_id: OfficeId
  customer_id: CustomerId
  name: string
  role: string
  phone: string
  email: string
  note: string
  version: Generated<number>
}

export interface CustomersTable {
  id: Generated<CustomerId>
  office_id: OfficeId
  reference: string
  kind: 'person' | 'business'
  sort_name: string
  letter_name: string
  salutation: string
  phone: string
  phone_note: string
  email: string
  mail_line1: string
  mail_line2: string
  mail_town: string
  mail_region: string
  mail_postal_code: string
  mail_country: string
  mail_elsewhere: Generated<Flag>
  no_mail: Generated<Flag>
  moved_on: CalendarDate | null
  tax_exempt: Generated<Flag>
  payment_terms_days: number | null
  note: string
  created_on: CalendarDate
  closed_on: CalendarDate | null
  version: Generated<number>
}

export interface DaysOffTable {
  id: Generated<number>
  office_id: OfficeId
  technician_id: TechnicianId
  from_on: CalendarDate
  until_on: CalendarDate
  reason: string
}

export interface EventsTable {
  id: Generated<EventId>
  office_id: OfficeId
  happened_at: string
  happened_on: CalendarDate
  by_whom: string
  subject_kind: string
  subject_id: number
  site_id: SiteId | null
  verb: string
  sentence: string
  details: Generated<string>
}

export interface ImportFilesTable {
  id: Generated<number>
  office_id: OfficeId
  name: string
  held_at: string
  content: string
  rows_found: number
  state: 'held' | 'taken' | 'dropped'
  taken_at: string | null
  size_bytes: Generated<number>
  /** How somebody chose to read it; null: as its bytes say. */
  read_as: 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252' | null
}

/** The bytes of a held list, in order. */
export interface ImportPiecesTable {
  office_id: OfficeId
  file_id: number
  position: number
  bytes: Uint8Array
}

/** What was judged of a held list, a page of entries a row, as JSON that only the import reads. */
export interface ImportJudgementsTable {
  office_id: OfficeId
  file_id: number
  position: number
  entries: string
}

export interface ImportMappingsTable {
  id: Generated<number>
  office_id: OfficeId
  columns_key: string
  mapping: string
  used_at: string
}

export interface InstallationsTable {
  id: Generated<InstallationId>
  office_id: OfficeId
  site_id: SiteId
  name: string
  installed_on: CalendarDate | null
  removed_on: CalendarDate | null
  recovery_percent: number | null
  people: number | null
  daily_ml: Millilitres | null
  interval_months: number | null
  due_on: CalendarDate | null
  note: string
  version: Generated<number>
}

export interface IntervalRulesTable {
  office_id: OfficeId
  stage_kind: StageKind
  basis: 'household' | 'feed-water' | 'fixed' | 'none'
  months_most: number
  months_least: number
}

export interface InvoiceAdjustmentsTable {
  id: Generated<number>
  office_id: OfficeId
  invoice_id: InvoiceId
  position: number
  kind: 'allowance' | 'charge'
  reason: string
  amount_cents: Cents
  tax_category: 'standard' | 'zero' | 'exempt' | 'outside'
  tax_rate: TaxRate
}

export interface InvoiceLinesTable {
  id: Generated<number>
  office_id: OfficeId
  invoice_id: InvoiceId
  position: number
  description: string
  part_id: PartId | null
  visit_task_id: VisitTaskId | null
  quantity_thousandths: number
  unit: string
  unit_price_e4: number
  allowance_cents: Generated<Cents>
  charge_cents: Generated<Cents>
  net_cents: Cents
  tax_category: 'standard' | 'zero' | 'exempt' | 'outside'
  tax_rate: TaxRate
}

export interface InvoiceTaxesTable {
  id: Generated<number>
  office_id: OfficeId
  invoice_id: InvoiceId
  tax_category: 'standard' | 'zero' | 'exempt' | 'outside'
  tax_rate: TaxRate
  taxable_cents: Cents
  tax_cents: Cents
}

/** What is still open on each issued invoice; kept by triggers on invoices and payment shares. Below zero: paid, then credited. */
export interface InvoiceBalancesTable {
  office_id: OfficeId
  invoice_id: InvoiceId
  due_on: CalendarDate
  open_cents: Cents
}

export interface InvoicesTable {
  id: Generated<InvoiceId>
  office_id: OfficeId
  kind: 'invoice' | 'credit-note'
  state: 'draft' | 'issued'
  year: number | null
  number: number | null
  number_text: Generated<string>
  customer_id: CustomerId
  site_id: SiteId | null
  visit_id: VisitId | null
  corrects_id: InvoiceId | null
  currency: string
  drafted_on: CalendarDate
  issued_on: CalendarDate | null
  supplied_on: CalendarDate | null
  pay_by: CalendarDate | null
  buyer_address: string
  buyer_reference: string
  note: string
  tax_exempt: Generated<Flag>
  line_net_cents: Cents
  allowance_cents: Cents
  charge_cents: Cents
  net_cents: Cents
  tax_cents: Cents
  gross_cents: Cents
  prepaid_cents: Generated<Cents>
  rounding_cents: Generated<Cents>
  due_cents: Cents
  issued_at: string | null
  issued_by: Generated<string>
  version: Generated<number>
}

export interface LetterRunsTable {
  id: Generated<LetterRunId>
  office_id: OfficeId
  name: string
  written_on: CalendarDate
  written_at: string
  by_whom: string
  letters: number
  page_size: string
  window_envelope: string
  taken_back_at: string | null
  taken_back_reason: string
  /** The letterhead and the country's manner it was printed with; null for a run from before they were kept. */
  sender_name: string | null
  /** A line each. */
  sender_particulars: string | null
  sender_line: string | null
  locale: string | null
}

export interface LetterStagesTable {
  office_id: OfficeId
  letter_id: LetterId
  position: number
  stage_id: StageId
  kind: StageKind
  label: string
  due_on: CalendarDate | null
  life_left: number | null
  days_late: number
  reason: string
  due: Generated<Flag>
  price_cents: Cents
  /** Null for a letter from before it was kept. */
  installation_id: InstallationId | null
  unit: string | null
}

export interface LetterWordingsTable {
  office_id: OfficeId
  kind: 'first' | 'second' | 'final'
  subject: string
  body: string
  answer: string
  version: Generated<number>
}

export interface LettersTable {
  id: Generated<LetterId>
  office_id: OfficeId
  run_id: LetterRunId
  customer_id: CustomerId
  site_id: SiteId
  kind: 'first' | 'second' | 'final'
  written_on: CalendarDate
  due_on: CalendarDate
  position: number
  reference: string
  address: string
  salutation: string
  subject: string
  body: string
  answer: string
  cautions: string
  currency: string
  net_cents: Cents
  tax_cents: Cents
  total_cents: Cents
  taken_back: Generated<Flag>
}

export interface LotsTable {
  id: Generated<LotId>
  office_id: OfficeId
  part_id: PartId
  code: string
  expires_on: CalendarDate | null
  received_on: CalendarDate
  cost_cents: Cents
  recalled_on: CalendarDate | null
  recall_note: string
  /** Whose notice the recall rests on: the supplier's reference. */
  recall_notice: Generated<string>
  recalled_at: string | null
}

export interface MovementsTable {
  id: Generated<MovementId>
  office_id: OfficeId
  part_id: PartId
  lot_id: LotId
  from_place_id: PlaceId | null
  to_place_id: PlaceId | null
  quantity: number
  reason: 'receive' | 'move' | 'pull' | 'fit' | 'return' | 'count' | 'scrap' | 'recall' | 'correct'
  moved_on: CalendarDate
  moved_at: string
  by_whom: string
  note: string
  visit_id: VisitId | null
  visit_task_id: VisitTaskId | null
  pull_id: PullId | null
  receipt_id: number | null
  order_line_id: PurchaseOrderLineId | null
  corrects_id: MovementId | null
  /** Where pieces on the way are to arrive; on their sending and on their arrival. */
  bound_for_place_id: PlaceId | null
}

export interface NumberSeriesTable {
  office_id: OfficeId
  series: string
  year: number
  last_number: number
}

export interface OfficesTable {
  id: OfficeId
  name: string
  line1: string
  line2: string
  town: string
  region: string
  postal_code: string
  country: string
  phone: string
  email: string
  latitude: number | null
  longitude: number | null
  is_demo: Generated<Flag>
  founded_at: string
  version: Generated<number>
}

export interface PartBinsTable {
  office_id: OfficeId
  part_id: PartId
  place_id: PlaceId
  /** The first bin is where a delivery goes; those of one rank come in the order of the walk. */
  rank: Generated<number>
}

export interface PartSubstitutesTable {
  office_id: OfficeId
  part_id: PartId
  substitute_id: PartId
  rank: number
}

export interface PartsTable {
  id: Generated<PartId>
  office_id: OfficeId
  number: string
  name: string
  stage_kind: StageKind | null
  gtin: string
  price_cents: Cents
  cost_cents: Cents
  tax_free: Generated<Flag>
  rated_ml: Millilitres | null
  shelf_months: number | null
  fit_minutes: Minutes | null
  per_visit_quantity: Generated<number>
  reorder_point: number | null
  service_level_percent: number | null
  /** Room that a piece takes on a van; null where nobody measured it. */
  space_ml: number | null
  van_par: Generated<number>
  note: string
  closed_on: CalendarDate | null
  version: Generated<number>
}

export interface PaymentSharesTable {
  id: Generated<number>
  office_id: OfficeId
  payment_id: PaymentId
  invoice_id: InvoiceId
  amount_cents: Cents
}

export interface PaymentsTable {
  id: Generated<PaymentId>
  office_id: OfficeId
  customer_id: CustomerId
  received_on: CalendarDate
  amount_cents: Cents
  method: string
  note: string
  recorded_at: string
  by_whom: string
  undoes_id: PaymentId | null
}

/** What a planned visit does to a stage of the household. */
export interface PlannedChangesTable {
  office_id: OfficeId
  site_id: SiteId
  /** With the site: the planned visit. */
  latest_on: CalendarDate
  stage_id: StageId
  /** It calls for the visit; it goes along because that is cheaper; it goes with what carries it. */
  kind: 'forced' | 'along' | 'carried'
  /** Null for a stage without a date that goes with another. */
  due_on: CalendarDate | null
}

/** The planned visits of the next months; what lies further ahead is planned afresh whenever somebody looks. */
export interface PlannedVisitsTable {
  office_id: OfficeId
  site_id: SiteId
  /** The last day that the grace allows; the key within the site. */
  latest_on: CalendarDate
  /** From this day on the visit is worth the drive: what calls for it is due. */
  visit_on: CalendarDate
  /** At the household, the call and the work. */
  minutes: Minutes
  /** What it costs the office: the call, parts and labour. */
  cents: Cents
}

export interface PlacesTable {
  id: Generated<PlaceId>
  office_id: OfficeId
  kind: 'bin' | 'van' | 'quarantine' | 'transit'
  code: string
  aisle: string
  walk_order: number
  closed_on: CalendarDate | null
  version: Generated<number>
}

export interface PriceBreaksTable {
  office_id: OfficeId
  term_id: number
  from_quantity: number
  price_cents: Cents
}

/** What a pull found that was not as the books said. */
export interface PullFindingsTable {
  id: Generated<number>
  office_id: OfficeId
  pull_id: PullId
  kind: 'short' | 'damaged' | 'elsewhere'
  part_id: PartId
  lot_id: LotId
  place_id: PlaceId
  quantity: number
  found_at: string
  by_whom: string
  note: string
}

export interface PullLineStopsTable {
  office_id: OfficeId
  pull_line_id: PullLineId
  visit_id: VisitId
  stop: number
  quantity: number
}

export interface PullLinesTable {
  id: Generated<PullLineId>
  office_id: OfficeId
  pull_id: PullId
  position: number
  part_id: PartId
  lot_id: LotId
  place_id: PlaceId
  quantity: number
  pulled_quantity: number | null
  pulled_at: string | null
  pulled_by: Generated<string>
  substitute: Generated<Flag>
  /** Tops the van up to its par; belongs to no stop. */
  for_par: Generated<Flag>
}

/** What a visit had to go without when its van was loaded. */
export interface PullShortagesTable {
  office_id: OfficeId
  pull_id: PullId
  visit_id: VisitId
  part_id: PartId
  quantity: number
}

export interface PullsTable {
  id: Generated<PullId>
  office_id: OfficeId
  pull_on: CalendarDate
  van_id: VanId
  state: 'open' | 'confirmed' | 'taken-back'
  begun_at: string
  by_whom: string
  confirmed_at: string | null
  version: Generated<number>
}

export interface PurchaseOrderLinesTable {
  id: Generated<PurchaseOrderLineId>
  office_id: OfficeId
  order_id: PurchaseOrderId
  part_id: PartId
  position: number
  quantity: number
  received_quantity: Generated<number>
  /** Pieces of the line that nobody waits for any more. */
  given_up_quantity: Generated<number>
  price_cents: Cents
  reason: string
}

export interface PurchaseOrdersTable {
  id: Generated<PurchaseOrderId>
  office_id: OfficeId
  supplier_id: SupplierId
  number: string
  state: 'draft' | 'sent' | 'received' | 'cancelled'
  drafted_on: CalendarDate
  sent_on: CalendarDate | null
  expected_on: CalendarDate | null
  note: string
  cancelled_on: CalendarDate | null
  cancelled_reason: Generated<string>
  version: Generated<number>
}

export interface ReadingsTable {
  id: Generated<ReadingId>
  office_id: OfficeId
  installation_id: InstallationId
  visit_id: VisitId | null
  taken_on: CalendarDate
  tds_in_mg_l: Tds | null
  tds_out_mg_l: Tds | null
  flow_ml_min: MillilitresPerMinute | null
  feed_kpa: Kilopascals | null
  tank_kpa: Kilopascals | null
  temperature_c: Celsius | null
  unlikely: Generated<Flag>
  note: string
  /** What a meter on the product line has counted in all. */
  meter_ml: Millilitres | null
  /** Taken out of the reckoning, with a reason; a reading is never edited. */
  struck_on: CalendarDate | null
  struck_reason: Generated<string>
}

/** A letter that told a household of a recalled lot, as it was printed. */
export interface RecallLettersTable {
  id: Generated<number>
  office_id: OfficeId
  lot_id: LotId
  customer_id: CustomerId
  site_id: SiteId
  written_on: CalendarDate
  written_at: string
  by_whom: string
  position: number
  address: string
  salutation: string
  subject: string
  body: string
  answer: string
  cautions: string
  /** Letterhead and manner of the day it was written. */
  sender: string
}

/** What came of one lot with a delivery. */
export interface ReceiptLinesTable {
  id: Generated<number>
  office_id: OfficeId
  receipt_id: number
  order_line_id: PurchaseOrderLineId | null
  part_id: PartId
  lot_id: LotId
  /** Pieces put into a bin. */
  accepted: number
  /** Pieces put into quarantine. */
  damaged: number
  /** What a piece was charged at. */
  price_cents: Cents
}

export interface ReceiptsTable {
  id: Generated<number>
  office_id: OfficeId
  supplier_id: SupplierId | null
  order_id: PurchaseOrderId | null
  received_on: CalendarDate
  by_whom: string
  note: string
}

/** What an order was sent with: its paper can be printed again the same. */
export interface SentOrdersTable {
  office_id: OfficeId
  order_id: PurchaseOrderId
  sender_name: string
  /** Street and town, phone, mail: a line each. */
  sender: string
  /** A line of the address a line. */
  supplier_address: string
  account: string
  deliver_to: string
  remark: string
  expected_on: CalendarDate | null
  currency: string
  locale: string
  page_size: 'letter' | 'a4'
  window_envelope: 'us-10' | 'din-5008-b'
  sent_at: string
  by_whom: string
}

export interface SentOrderLinesTable {
  office_id: OfficeId
  order_line_id: PurchaseOrderLineId
  part_number: string
  part_name: string
  supplier_number: string
  pack_size: number
}

export interface SettingsTable {
  office_id: OfficeId
  name: string
  value: string
}

export interface SiteSearchTable {
  office_id: OfficeId
  site_id: SiteId
  words: string
}

/** The plan of a household in short. A household without a row has never been planned. */
export interface SitePlansTable {
  office_id: OfficeId
  site_id: SiteId
  planned_on: CalendarDate
  horizon_on: CalendarDate
  next_visit_on: CalendarDate | null
  latest_on: CalendarDate | null
  /** Over the whole horizon. */
  visits: number
  total_cents: Cents
  saves_own_dates_cents: Cents
  saves_everything_cents: Cents
  /** Nothing cheaper exists; else it is the best that was found in time. */
  proved: Flag
  /** Something it rests on has changed since. */
  stale: Generated<Flag>
}

export interface SitesTable {
  id: Generated<SiteId>
  office_id: OfficeId
  customer_id: CustomerId
  line1: string
  line2: string
  town: string
  region: string
  postal_code: string
  country: string
  latitude: number | null
  longitude: number | null
  access_note: string
  water_source: 'mains' | 'well' | 'unknown'
  hardness_mg_l: Hardness | null
  feed_tds_mg_l: Tds | null
  people: number | null
  daily_ml: Millilitres | null
  months_away: Generated<string>
  /** Months that visits are kept out of where that can be, as numbers and commas: "1,2,12". Blank: as the office. */
  plan_avoid_months: Generated<string>
  /** Null: as the office. */
  plan_membrane_never_early: Flag | null
  /** Visits fall on days on which a neighbouring place of the same customer is visited, where that saves a call. */
  plan_align: Generated<Flag>
  due_on: CalendarDate | null
  closed_on: CalendarDate | null
  version: Generated<number>
}

export interface StagesTable {
  id: Generated<StageId>
  office_id: OfficeId
  installation_id: InstallationId
  position: number
  kind: StageKind
  label: string
  part_id: PartId | null
  /** No substitute is ever fitted here. */
  own_part_only: Generated<Flag>
  fitted_on: CalendarDate | null
  fitted_lot_id: LotId | null
  fitted_visit_id: VisitId | null
  interval_months: number | null
  own_due_on: CalendarDate | null
  own_due_note: Generated<string>
  /** The fitting that the own date was set against: a later one ends it. */
  own_due_until: CalendarDate | null
  /** The last day on which the own date stands; the rules speak again after it. */
  own_due_ends_on: CalendarDate | null
  due_on: CalendarDate | null
  due_rule: Generated<string>
  due_reason: Generated<string>
  removed_on: CalendarDate | null
  /** What stood here before the first recorded visit; a corrected visit falls back on it. */
  earlier_fitted_on: CalendarDate | null
  earlier_part_id: PartId | null
  earlier_lot_id: LotId | null
  version: Generated<number>
}

/** A round of counting. */
export interface StockCountsTable {
  id: Generated<number>
  office_id: OfficeId
  count_on: CalendarDate
  name: string
  state: 'open' | 'approved' | 'dropped'
  begun_at: string
  begun_by: string
  ended_at: string | null
  ended_by: Generated<string>
  version: Generated<number>
}

export interface StockCountLinesTable {
  id: Generated<number>
  office_id: OfficeId
  count_id: number
  place_id: PlaceId
  part_id: PartId
  lot_id: LotId
  /** Why it is counted this time, in words. */
  why: string
  counted: number | null
  /** What the books said at the moment it was counted; not shown to whoever counts. */
  books_said: number | null
  counted_at: string | null
  counted_by: Generated<string>
  note: Generated<string>
  movement_id: MovementId | null
}

export interface SupplierTermsTable {
  id: Generated<number>
  office_id: OfficeId
  supplier_id: SupplierId
  part_id: PartId
  supplier_number: string
  price_cents: Cents
  pack_size: number
  minimum_quantity: number
  preferred: Generated<Flag>
  version: Generated<number>
}

export interface SuppliersTable {
  id: Generated<SupplierId>
  office_id: OfficeId
  name: string
  account: string
  line1: string
  line2: string
  town: string
  region: string
  postal_code: string
  country: string
  phone: string
  email: string
  lead_time_days: number
  review_days: number | null
  minimum_order_cents: Cents
  note: string
  closed_on: CalendarDate | null
  version: Generated<number>
}

export interface TechniciansTable {
  id: Generated<TechnicianId>
  office_id: OfficeId
  name: string
  short_name: string
  phone: string
  workdays: string
  starts_at: TimeOfDay
  ends_at: TimeOfDay
  minutes_a_day: Minutes
  left_on: CalendarDate | null
  version: Generated<number>
}

/** What a van always carries of a part, where it differs from the part's own par. */
export interface VanParsTable {
  office_id: OfficeId
  van_id: VanId
  part_id: PartId
  par: number
}

export interface VansTable {
  id: Generated<VanId>
  office_id: OfficeId
  name: string
  place_id: PlaceId
  technician_id: TechnicianId | null
  /** Room for parts; null where it is not minded. */
  space_ml: number | null
  closed_on: CalendarDate | null
  version: Generated<number>
}

export interface VisitTasksTable {
  id: Generated<VisitTaskId>
  office_id: OfficeId
  visit_id: VisitId
  kind: 'change' | 'sanitise' | 'measure' | 'other'
  stage_id: StageId | null
  part_id: PartId | null
  quantity: Generated<number>
  planned_minutes: Generated<Minutes>
  description: string
  state: 'planned' | 'done' | 'left'
  fitted_part_id: PartId | null
  fitted_lot_id: LotId | null
  from_place_id: PlaceId | null
  free_of_charge: Generated<Flag>
  position: number
}

export interface VisitsTable {
  id: Generated<VisitId>
  office_id: OfficeId
  site_id: SiteId
  technician_id: TechnicianId | null
  visit_on: CalendarDate
  window_from: TimeOfDay
  window_until: TimeOfDay
  planned_minutes: Minutes
  /** The place in the day's driving order, from 1; of a visit that nobody has, null. */
  route_position: number | null
  /** The office put the visit there by hand: booking another does not move it. */
  route_by_hand: Generated<Flag>
  state: 'booked' | 'done' | 'could-not' | 'cancelled'
  reason: string
  promised: Generated<Flag>
  note: string
  done_on: CalendarDate | null
  sanitised: Generated<Flag>
  leak_checked: Generated<Flag>
  /** Looked at again after the tank had filled. */
  leak_checked_full: Generated<Flag>
  /** The call itself is not charged. */
  call_free: Generated<Flag>
  remarks: string
  booked_at: string
  recorded_at: string | null
  letter_id: LetterId | null
  version: Generated<number>
}

/** Every table by its name. */
export interface OfficeTables {
  balances: BalancesTable
  contacts: ContactsTable
  customers: CustomersTable
  days_off: DaysOffTable
  events: EventsTable
  import_files: ImportFilesTable
  import_judgements: ImportJudgementsTable
  import_mappings: ImportMappingsTable
  import_pieces: ImportPiecesTable
  installations: InstallationsTable
  interval_rules: IntervalRulesTable
  invoice_adjustments: InvoiceAdjustmentsTable
  invoice_balances: InvoiceBalancesTable
  invoice_lines: InvoiceLinesTable
  invoice_taxes: InvoiceTaxesTable
  invoices: InvoicesTable
  letter_runs: LetterRunsTable
  letter_stages: LetterStagesTable
  letter_wordings: LetterWordingsTable
  letters: LettersTable
  lots: LotsTable
  movements: MovementsTable
  number_series: NumberSeriesTable
  offices: OfficesTable
  part_bins: PartBinsTable
  part_substitutes: PartSubstitutesTable
  parts: PartsTable
  payment_shares: PaymentSharesTable
  payments: PaymentsTable
  places: PlacesTable
  planned_changes: PlannedChangesTable
  planned_visits: PlannedVisitsTable
  price_breaks: PriceBreaksTable
  pull_findings: PullFindingsTable
  pull_line_stops: PullLineStopsTable
  pull_lines: PullLinesTable
  pull_shortages: PullShortagesTable
  pulls: PullsTable
  purchase_order_lines: PurchaseOrderLinesTable
  purchase_orders: PurchaseOrdersTable
  readings: ReadingsTable
  recall_letters: RecallLettersTable
  receipt_lines: ReceiptLinesTable
  receipts: ReceiptsTable
  sent_order_lines: SentOrderLinesTable
  sent_orders: SentOrdersTable
  settings: SettingsTable
  site_plans: SitePlansTable
  site_search: SiteSearchTable
  sites: SitesTable
  stages: StagesTable
  stock_count_lines: StockCountLinesTable
  stock_counts: StockCountsTable
  supplier_terms: SupplierTermsTable
  suppliers: SuppliersTable
  technicians: TechniciansTable
  van_pars: VanParsTable
  vans: VansTable
  visit_tasks: VisitTasksTable
  visits: VisitsTable
}
