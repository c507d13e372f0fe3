import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import { type CalendarDate, partsOf } from '../../core/units/calendar-date.ts'
import { monthName } from '../../core/units/date-words.ts'
import { flowText, pressureText, tdsText, temperatureText } from '../../core/units/measures.ts'
import { rejectionPercent } from '../../core/water/rejection.ts'
import { Button } from '../design/Button.tsx'
import { Facts } from '../design/Facts.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SheetPart } from '../design/Sheet.tsx'
import { StageTrain } from '../design/StageTrain.tsx'
import { DateText, MeasureText } from '../design/Words.tsx'

type Unit = HouseholdSheet['units'][number]

/** A unit on the household's sheet: its train, what the next visit does, its last readings. */
export function UnitPart({ unit, onChange }: { readonly unit: Unit; readonly onChange: () => void }) {
  return (
    <SheetPart
      title={<UnitTitle name={unit.fields.name} fittedOn={unit.fields.fittedOn} />}
      aside={
        <Button kind="quiet" onPress={onChange}>
          Change the unit
        </Button>
      }
    >
      <StageTrain stages={unit.train} size="full" />
      {unit.nextVisit !== '' && (
        <p className="household-next">
          <b>Next visit:</b> {unit.nextVisit}
        </p>
      )}
      <LastReading unit={unit} />
    </SheetPart>
  )
}

function UnitTitle({ name, fittedOn }: { readonly name: string; readonly fittedOn: CalendarDate | null }) {
  const title = `${name.charAt(0).toUpperCase()}${name.slice(1)}`
  if (fittedOn === null) return <>{title}</>
  const { month, year } = partsOf(fittedOn)
  return (
    <>
      {title}, since {monthName(month).slice(0, 3)} {year}
    </>
  )
}

function LastReading({ unit }: { readonly unit: Unit }) {
  const { measures } = useOffice()
  const last = unit.readings[0]
  if (!last) return <p className="second small">Nothing was measured here yet.</p>
  const rejection = last.tdsIn !== null && last.tdsOut !== null ? rejectionPercent(last.tdsIn, last.tdsOut) : null
  return (
    <div className="household-reading">
      <p className="second small">
        Measured on <DateText date={last.takenOn} />
      </p>
      <Facts
        facts={[
          { label: 'TDS in', value: last.tdsIn === null ? null : <MeasureText text={tdsText(last.tdsIn)} /> },
          { label: 'TDS out', value: last.tdsOut === null ? null : <MeasureText text={tdsText(last.tdsOut)} /> },
          { label: 'Rejection', value: rejection === null ? null : <MeasureText text={`${rejection.toFixed(0)} %`} /> },
          { label: 'Flow', value: last.flow === null ? null : <MeasureText text={flowText(last.flow, measures)} /> },
          {
            label: 'Feed',
            value: last.feed === null ? null : <MeasureText text={pressureText(last.feed, measures)} />,
          },
          {
            label: 'Tank, empty',
            value: last.tank === null ? null : <MeasureText text={pressureText(last.tank, measures)} />,
          },
          {
            label: 'Water',
            value:
              last.temperature === null ? null : <MeasureText text={temperatureText(last.temperature, measures)} />,
          },
        ]}
      />
      <p className="second small">
        A TDS figure says nothing about germs, lead or nitrate: that takes a certified laboratory.
      </p>
    </div>
  )
}
