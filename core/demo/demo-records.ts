import type { StageKind } from '../installations/stage-kinds.ts'
import type { DayNumber } from '../units/calendar-date.ts'

/*
 * The demo office as plain records. They point at one another by their place in the lists (0, 1, 2 ...);
 * demo-store.ts turns places into keys. Days are day numbers, money is cents.
 */

export interface DemoHousehold {
  readonly reference: string
  readonly business: boolean
  readonly given: string
  readonly family: string
  readonly phone: string
  readonly phoneNote: string
  readonly email: string
  readonly town: number
  readonly line1: string
  readonly latitude: number
  readonly longitude: number
  readonly accessNote: string
  readonly people: number | null
  readonly hardness: number
  readonly tds: number
  readonly wellWater: boolean
  readonly since: DayNumber
  readonly noMail: boolean
  /** The day they moved away; null for those who still live there. */
  readonly movedOn: DayNumber | null
  /** Months in which nobody is there, "1,2,12"; blank for most. */
  readonly monthsAway: string
  /** The place of the household whose customer this one belongs to: its own for all but a second home. */
  readonly customer: number
  /** Its visits fall on days on which the owner's other home is visited, where that saves a drive. */
  readonly visitedTogether: boolean
  /** Names of its units; all but a few have one. */
  readonly units: readonly string[]
  readonly stages: readonly DemoStage[]
  /** The story that its readings tell; null for all whose readings only go with age and water. */
  readonly story: string | null
}

export interface DemoStage {
  readonly kind: StageKind
  /** Place in the scenario's parts; null for a tank. */
  readonly part: number | null
  /** Place in the household's units. */
  readonly unit: number
}

export interface DemoFitting {
  readonly stage: number
  readonly part: number | null
  /** Place in the lots; set by the stock run. */
  lot: number | null
  /** It was not on the van when that was loaded and came from its bin on the morning of the visit; set by the stock run. */
  fromBin?: boolean
}

export interface DemoReading {
  readonly unit: number
  readonly tdsIn: number
  readonly tdsOut: number
  readonly feedKpa: number
  readonly tankKpa: number
  readonly flowMlMin: number
  readonly temperatureC: number
  /** What the meter on the product line has counted in all; null where there is none. */
  readonly meterMl: number | null
  /** Asked about when it was entered, and kept with its mark. */
  readonly unlikely: boolean
  readonly note: string
}

/** A reading that was taken when a unit was fitted, or at a door without a visit being booked. */
export interface DemoReadingAlone {
  readonly household: number
  readonly on: DayNumber
  readonly reading: DemoReading
}

export interface DemoVisit {
  readonly household: number
  readonly technician: number
  readonly on: DayNumber
  readonly windowFrom: number
  readonly windowUntil: number
  readonly minutes: number
  readonly bookedOn: DayNumber
  readonly outcome: 'booked' | 'done' | 'could-not' | 'cancelled'
  readonly reason: string
  readonly fittings: readonly DemoFitting[]
  readonly consumables: DemoFitting[]
  /** One of each unit that was worked on; none of a visit that is to come or was in vain. */
  readonly readings: readonly DemoReading[]
  readonly remarks: string
  readonly promised: boolean
}

export interface DemoLetter {
  readonly household: number
  readonly kind: 'first' | 'second' | 'final'
  readonly writtenOn: DayNumber
  readonly dueOn: DayNumber
  /** The stages due with it, by place in the household's list, with the dates they were due then. */
  readonly stages: readonly {
    readonly stage: number
    readonly dueOn: DayNumber
    readonly due: boolean
    readonly reason: string
    readonly rule: string
    readonly changedOn: DayNumber
  }[]
}

export interface DemoLot {
  readonly part: number
  readonly code: string
  readonly receivedOn: DayNumber
  readonly expiresOn: DayNumber | null
  readonly quantity: number
  readonly order: number
  /** Cents a piece where they were not charged at the usual cost. */
  readonly charged: number | null
}

export interface DemoOrderLine {
  readonly part: number
  readonly quantity: number
  readonly received: number
  /** Cents a piece where the delivery was charged otherwise than ordered. */
  readonly charged: number | null
}

export interface DemoOrder {
  readonly supplier: number
  readonly number: string
  readonly sentOn: DayNumber
  readonly expectedOn: DayNumber
  /** The day of its one delivery, whole or in part. */
  readonly receivedOn: DayNumber | null
  readonly lines: readonly DemoOrderLine[]
}

/** 'bin' is the part's own, 'way' what is on the way; a number is the van of that technician. */
export type DemoPlace = 'outside' | 'bin' | 'quarantine' | 'way' | number

/** One movement. */
export interface DemoMovement {
  readonly on: DayNumber
  readonly lot: number
  readonly quantity: number
  readonly from: DemoPlace
  readonly to: DemoPlace
  readonly reason: 'receive' | 'pull' | 'fit' | 'scrap' | 'move' | 'count'
  readonly visit: number | null
  readonly order: number | null
  /** Place in the pulls, for what one of them put on a van. */
  readonly pull?: number
  /** Place in the rounds of counting, for an approved difference. */
  readonly count?: number
  /** The van that pieces on the way go to. */
  readonly boundFor?: number
  readonly note?: string
}

/** A van as it was loaded for a day: what was pulled of each lot and for whom, and who went without. */
export interface DemoPull {
  readonly technician: number
  /** The day of the visits; the van was loaded on the working day before. */
  readonly visitsOn: DayNumber
  readonly loadedOn: DayNumber
  readonly by: string
  /** In the order of the walk, each with its visits in the order of the day. */
  readonly lines: readonly {
    readonly lot: number
    readonly stops: readonly { readonly visit: number; readonly quantity: number }[]
  }[]
  readonly shortages: { readonly visit: number; readonly part: number }[]
}

/** A round of counting an aisle; every line is counted, and an open round waits for approval. */
export interface DemoCount {
  readonly name: string
  readonly on: DayNumber
  readonly state: 'approved' | 'open'
  readonly by: string
  readonly lines: readonly {
    readonly lot: number
    readonly booksSaid: number
    readonly counted: number
    readonly note: string
  }[]
}

/** What the warehouse did in five years. */
export interface StockYears {
  readonly orders: DemoOrder[]
  readonly lots: DemoLot[]
  readonly movements: DemoMovement[]
  readonly pulls: DemoPull[]
  readonly counts: DemoCount[]
}

export interface DemoPayment {
  readonly visit: number
  readonly on: DayNumber
  /** Share of the invoice, in hundredths: 100 pays it, less is a part payment. */
  readonly hundredths: number
  readonly method: 'card' | 'cheque' | 'transfer' | 'cash'
}

export interface DemoInvoice {
  readonly visit: number
  readonly draftedOn: DayNumber
  readonly issuedOn: DayNumber | null
}

export interface DemoOffice {
  readonly today: DayNumber
  readonly households: readonly DemoHousehold[]
  readonly visits: readonly DemoVisit[]
  readonly readings: readonly DemoReadingAlone[]
  readonly letters: readonly DemoLetter[]
  readonly orders: readonly DemoOrder[]
  readonly lots: readonly DemoLot[]
  readonly movements: readonly DemoMovement[]
  readonly pulls: readonly DemoPull[]
  readonly counts: readonly DemoCount[]
  readonly invoices: readonly DemoInvoice[]
  readonly payments: readonly DemoPayment[]
  readonly daysOff: readonly {
    readonly technician: number
    readonly from: DayNumber
    readonly until: DayNumber
    readonly reason: string
  }[]
}
