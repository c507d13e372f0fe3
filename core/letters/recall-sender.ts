import type { RunSender } from './run-sender.ts'

/** What a recall letter was printed with: letterhead, country, sheet and envelope, so that a reprint is the same. */
export interface RecallSender extends RunSender {
  readonly pageSize: 'letter' | 'a4'
  readonly windowEnvelope: 'us-10' | 'din-5008-b'
}

/** As the books keep it: a line each, the particulars last. Line breaks within a line become spaces. */
export function recallSenderText(sender: RecallSender): string {
  const { pageSize, windowEnvelope, locale, officeName, senderLine, particulars } = sender
  return [pageSize, windowEnvelope, locale, officeName, senderLine, ...particulars].map(oneLine).join('\n')
}

const oneLine = (text: string): string => text.replace(/\s*[\r\n]+\s*/g, ' ')

export function readRecallSender(text: string): RecallSender {
  const [pageSize, windowEnvelope, locale = 'en-US', officeName = '', senderLine = '', ...particulars] =
    text.split('\n')
  return {
    pageSize: pageSize === 'a4' ? 'a4' : 'letter',
    windowEnvelope: windowEnvelope === 'din-5008-b' ? 'din-5008-b' : 'us-10',
    locale,
    officeName,
    senderLine,
    particulars,
  }
}
