import { type CalendarDate, calendarDateSchema } from '../../core/units/calendar-date.ts'
import { InlineChoice } from '../design/ChoiceField.tsx'
import { useAddressWord } from '../shell/open-record.ts'

const VIEWS = [
  { id: 'owed', words: 'who is owed one' },
  { id: 'runs', words: 'what was written' },
  { id: 'wording', words: 'the wording' },
] as const
export type LettersView = (typeof VIEWS)[number]['id']

/** What the Letters sheet shows, kept in the address. */
export function useLettersView(): readonly [LettersView, (view: LettersView) => void] {
  const [word, setWord] = useAddressWord('view')
  const [open] = useAddressWord('open')
  const view = VIEWS.find((each) => each.id === word)?.id
  return [view ?? (open?.startsWith('run-') ? 'runs' : 'owed'), setWord]
}

/** Until which due date letters are written ahead of their time; undefined as long as they are not. */
export function useAheadUntil(): CalendarDate | undefined {
  const [word] = useAddressWord('ahead')
  return calendarDateSchema.safeParse(word).data
}

export function ViewChoice() {
  const [view, setView] = useLettersView()
  return <InlineChoice words="show" label="What to show" choices={VIEWS} value={view} onChange={setView} />
}
