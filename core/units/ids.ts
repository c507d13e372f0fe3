import { z } from 'zod'

/** Keys of records: whole, above zero, and not to be mixed up with one another. */
const id = <Name extends string>(_name: Name) => z.int().positive().brand<Name>()

export const officeIdSchema = id('OfficeId')
export const customerIdSchema = id('CustomerId')
export const contactIdSchema = id('ContactId')
export const siteIdSchema = id('SiteId')
export const installationIdSchema = id('InstallationId')
export const stageIdSchema = id('StageId')
export const partIdSchema = id('PartId')
export const supplierIdSchema = id('SupplierId')
export const lotIdSchema = id('LotId')
export const placeIdSchema = id('PlaceId')
export const vanIdSchema = id('VanId')
export const technicianIdSchema = id('TechnicianId')
export const visitIdSchema = id('VisitId')
export const visitTaskIdSchema = id('VisitTaskId')
export const readingIdSchema = id('ReadingId')
export const letterRunIdSchema = id('LetterRunId')
export const letterIdSchema = id('LetterId')
export const pullIdSchema = id('PullId')
export const pullLineIdSchema = id('PullLineId')
export const movementIdSchema = id('MovementId')
export const invoiceIdSchema = id('InvoiceId')
export const paymentIdSchema = id('PaymentId')
export const purchaseOrderIdSchema = id('PurchaseOrderId')
export const purchaseOrderLineIdSchema = id('PurchaseOrderLineId')
export const eventIdSchema = id('EventId')

export type OfficeId = z.infer<typeof officeIdSchema>
export type CustomerId = z.infer<typeof customerIdSchema>
export type ContactId = z.infer<typeof contactIdSchema>
/** A household is a site with its customer: the id of a household is its site's. */
export type SiteId = z.infer<typeof siteIdSchema>
export type InstallationId = z.infer<typeof installationIdSchema>
export type StageId = z.infer<typeof stageIdSchema>
export type PartId = z.infer<typeof partIdSchema>
export type SupplierId = z.infer<typeof supplierIdSchema>
export type LotId = z.infer<typeof lotIdSchema>
export type PlaceId = z.infer<typeof placeIdSchema>
export type VanId = z.infer<typeof vanIdSchema>
export type TechnicianId = z.infer<typeof technicianIdSchema>
export type VisitId = z.infer<typeof visitIdSchema>
export type VisitTaskId = z.infer<typeof visitTaskIdSchema>
export type ReadingId = z.infer<typeof readingIdSchema>
export type LetterRunId = z.infer<typeof letterRunIdSchema>
export type LetterId = z.infer<typeof letterIdSchema>
export type PullId = z.infer<typeof pullIdSchema>
export type PullLineId = z.infer<typeof pullLineIdSchema>
export type MovementId = z.infer<typeof movementIdSchema>
export type InvoiceId = z.infer<typeof invoiceIdSchema>
export type PaymentId = z.infer<typeof paymentIdSchema>
export type PurchaseOrderId = z.infer<typeof purchaseOrderIdSchema>
export type PurchaseOrderLineId = z.infer<typeof purchaseOrderLineIdSchema>
export type EventId = z.infer<typeof eventIdSchema>
