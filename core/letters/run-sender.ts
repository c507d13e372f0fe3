import type { OfficeSettings } from '../settings/office-settings.ts'

/** What a run is printed with beside its letters: kept with it, so that a reprint is the same when the office has moved. */
export interface RunSender {
  readonly officeName: string
  /** Street and town, phone, mail: parted by dots below the name. */
  readonly particulars: readonly string[]
  /** The sender in one line, for the window. */
  readonly senderLine: string
  /** The country's manner: dates, money, the document's language. */
  readonly locale: string
}

interface Sender {
  readonly name: string
  readonly line1: string
  readonly line2: string
  readonly postalCode: string
  readonly town: string
  readonly phone: string
  readonly email: string
}

const joined = (parts: readonly string[], between: string): string => parts.filter((part) => part !== '').join(between)

/** The letterhead of the office as it is today. */
export function runSender(office: Sender, { locale }: Pick<OfficeSettings, 'locale'>): RunSender {
  const street = joined([office.line1, office.line2], ', ')
  const town = joined([office.postalCode, office.town], ' ')
  return {
    officeName: office.name,
    particulars: [joined([street, office.town], ', '), office.phone, office.email],
    senderLine: joined([office.name, street, town], ' · '),
    locale,
  }
}
