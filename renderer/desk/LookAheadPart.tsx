import { useNavigate } from '@tanstack/react-router'
import { daysLettersCount } from '../../core/letters/owed-letters.ts'
import { addDays } from '../../core/units/calendar-date.ts'
import type { LookAhead, WeekAhead } from '../../core/visits/look-ahead-shapes.ts'
import { lookAheadInWords, minutesAsPlanned, weekName } from '../../core/visits/look-ahead-words.ts'
import { Button } from '../design/Button.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SheetPart } from '../design/Sheet.tsx'
import { useDraft } from '../design/use-draft.ts'
import { useOfficeState } from '../shell/office-state.ts'
import { useAddressWord } from '../shell/open-record.ts'
import { ChosenWeek, LateVisits } from './ChosenWeek.tsx'
import { LookAheadPicture } from './LookAheadPicture.tsx'
import { lookAheadColumns } from './look-ahead-columns.tsx'
import { nothingToShow } from './nothing-to-show.ts'

/** The next 52 weeks below the trays: the picture, its words, the chosen week, and the same as a table. */
export function LookAheadPart({ ahead }: { readonly ahead: LookAhead }) {
  const missing = nothingToShow(ahead)
  return (
    <SheetPart title={`The next ${ahead.weeks.length} weeks`}>
      {missing === null ? <Weeks ahead={ahead} /> : <EmptyPlace {...missing} />}
    </SheetPart>
  )
}

function Weeks({ ahead }: { readonly ahead: LookAhead }) {
  const { locale, today } = useOffice()
  const { settings } = useOfficeState()
  const navigate = useNavigate()
  const [monday, setMonday] = useAddressWord('week')
  const { draft: isTable, setDraft: setTable } = useDraft('look-ahead-table', false)
  const wanted = ahead.weeks.findIndex((week) => week.monday === monday)
  const chosen = wanted >= 0 ? wanted : fullestWeek(ahead)
  const choose = (at: number): void => setMonday(ahead.weeks[at]?.monday ?? null)
  return (
    <>
      <LookAheadPicture ahead={ahead} chosen={chosen} onChoose={choose} />
      <div className="look-ahead-words">
        <section>
          <h3>The whole year</h3>
          {lookAheadInWords(ahead, locale).map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          <LateVisits ahead={ahead} onLook={() => void navigate({ to: '/due', search: { planned: 'late' } })} />
          <p className="look-ahead-action screen-only">
            <Button kind="quiet" aria-expanded={isTable} onPress={() => setTable(!isTable)}>
              {isTable ? 'Put the table away' : `Show the ${ahead.weeks.length} weeks as a table`}
            </Button>
          </p>
        </section>
        <ChosenWeek
          ahead={ahead}
          at={chosen}
          lettersUntil={addDays(today, daysLettersCount(settings))}
          onLook={(week) => void navigate({ to: '/due', search: { planned: week.monday } })}
        />
      </div>
      {isTable && (
        <div className="look-ahead-table screen-only">
          <DataTable<WeekAhead>
            name="weeks-ahead"
            label="The next 52 weeks"
            columns={lookAheadColumns}
            rows={ahead.weeks}
            rowKey={(week) => week.monday}
            rowName={(week) => weekName(ahead, ahead.weeks.indexOf(week), locale)}
            rowsInSight={12}
            onOpen={(week) => setMonday(week.monday)}
            openKey={ahead.weeks[chosen]?.monday ?? null}
            marked={(week) => minutesAsPlanned(week) > week.hours}
            empty={{ why: 'There are no weeks.' }}
          />
        </div>
      )}
    </>
  )
}

/** The week that is fullest as planned is looked at first. */
const fullestWeek = ({ peaks }: LookAhead): number => peaks?.asPlanned.week ?? 0
