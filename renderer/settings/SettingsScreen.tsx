import { useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import { SETTING_WORDS, type SettingGroup } from '../../core/settings/setting-words.ts'
import type { SettingsSheet } from '../../core/settings/settings-contract.ts'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, SheetPart, Sheets } from '../design/Sheet.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord } from '../shell/open-record.ts'
import { chooseTheme, chosenTheme, type Theme } from '../shell/theme.ts'
import { AddressForm } from './AddressForm.tsx'
import { BooksPart } from './BooksPart.tsx'
import { IntervalRows } from './IntervalRows.tsx'
import { SettingRow } from './SettingRow.tsx'
import { TechniciansPart } from './TechniciansPart.tsx'
import './settings.css'

const PAGES = ['office', 'due', 'letters', 'visits', 'money', 'stock', 'people', 'books', 'appearance'] as const
type Page = (typeof PAGES)[number]

const PAGE_WORDS: Readonly<Record<Page, { name: string; about: string }>> = {
  office: { name: 'The office', about: 'Who you are, and how you write and measure.' },
  due: {
    name: 'When stages fall due',
    about:
      'Rules of thumb of the trade to begin with; put in what you have seen yourself. Changing one moves due dates.',
  },
  letters: {
    name: 'Letters',
    about: 'When each letter is owed. A household that has booked, has moved or wants no mail gets none.',
  },
  visits: {
    name: 'Visits and hours',
    about: 'How long a day is and how long things take; from this a day is said to be full.',
  },
  money: { name: 'Money and tax', about: 'What new drafts are reckoned with. What is issued stays as it is.' },
  stock: {
    name: 'Stock and orders',
    about: 'What to order, what to count, and who gets the pieces when a part is short.',
  },
  people: { name: 'Who works here', about: 'Technicians with their workdays, hours and days off.' },
  books: { name: 'Books and backups', about: 'Where everything lies, and how it is kept safe.' },
  appearance: { name: 'Appearance', about: 'On this machine only.' },
}

/** Everything a dealer can change, in the office's words. */
export function SettingsScreen() {
  const [word, setPage] = useAddressWord('page')
  const page = PAGES.find((each) => each === word) ?? 'office'
  const sheet = useQuery(ask.settings.sheet.queryOptions())
  const failure = sheet.error ? problemOf(sheet.error) : null
  return (
    <Sheets>
      <Sheet title="Settings">
        <div className="settings">
          <nav aria-label="Pages of the settings">
            <ul>
              {PAGES.map((each) => (
                <li key={each}>
                  <button
                    type="button"
                    className="settings-page"
                    aria-current={each === page ? 'page' : undefined}
                    onClick={() => setPage(each)}
                  >
                    {PAGE_WORDS[each].name}
                  </button>
                </li>
              ))}
            </ul>
          </nav>
          <div className="settings-body">
            <h2 className="as-head">{PAGE_WORDS[page].name}</h2>
            <p className="second">{PAGE_WORDS[page].about}</p>
            {failure && <ProblemNote problem={failure} id={failure.id} onTryAgain={() => void sheet.refetch()} />}
            {sheet.data && <PageBody page={page} sheet={sheet.data} />}
          </div>
        </div>
      </Sheet>
    </Sheets>
  )
}

function PageBody({ page, sheet }: { readonly page: Page; readonly sheet: SettingsSheet }) {
  if (page === 'people') return <TechniciansPart technicians={sheet.technicians} />
  if (page === 'books') return <BooksPart />
  if (page === 'appearance') return <Appearance />
  return (
    <>
      {page === 'office' && <AddressForm address={sheet.address} version={sheet.addressVersion} />}
      <Rows group={page} sheet={sheet} />
      {page === 'due' && <IntervalRows rules={sheet.intervalRules} />}
      {page === 'letters' && (
        <p>
          The wording of each letter is changed on the{' '}
          <Link to="/letters" search={{}}>
            Letters
          </Link>{' '}
          sheet, with the page beside it.
        </p>
      )}
      {page === 'stock' && (
        <p>
          Parts, suppliers, bins and vans are kept under{' '}
          <Link to="/stock" search={{}}>
            Stock
          </Link>
          .
        </p>
      )}
    </>
  )
}

function Rows({ group, sheet }: { readonly group: SettingGroup; readonly sheet: SettingsSheet }) {
  return (
    <ul className="setting-rows">
      {SETTING_WORDS[group].map((words) => (
        <SettingRow key={words.name} words={words} values={sheet.values} />
      ))}
    </ul>
  )
}

const THEMES: readonly { id: Theme; words: string }[] = [
  { id: 'machine', words: 'As the machine is set' },
  { id: 'light', words: 'Light' },
  { id: 'dark', words: 'Dark' },
]

function Appearance() {
  const [theme, setTheme] = useState<Theme>(chosenTheme())
  return (
    <SheetPart title="Paper and ink">
      <ChoiceField
        label="Light or dark"
        choices={[...THEMES]}
        value={theme}
        chars={24}
        onChange={(next) => {
          setTheme(next)
          chooseTheme(next)
        }}
      />
    </SheetPart>
  )
}
