import { listed } from '../../core/installations/stage-train-words.ts'
import { addDays } from '../../core/units/calendar-date.ts'
import { formatCents } from '../../core/units/money.ts'
import { visitInWords } from '../../core/visits/plan-notes.ts'
import type { HouseholdPlan } from '../../core/visits/plan-shapes.ts'
import { minutesInWords } from '../../core/visits/planned-minutes.ts'
import { drawVisits, type LineStage } from '../../core/visits/visits-line.ts'
import { DrawnPicture } from '../design/DrawnPicture.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SheetPart } from '../design/Sheet.tsx'
import { useWidth } from '../design/use-width.ts'
import { DateText } from '../design/Words.tsx'
import { useOfficeState } from '../shell/office-state.ts'
import { PlanWishesForm } from './PlanWishesForm.tsx'

interface PlanPartProps {
  readonly plan: HouseholdPlan
  /** Every stage of the household, feed to tap, unit by unit. */
  readonly stages: readonly LineStage[]
}

/** What to see to next and why, what it saves, and the visits of the next years as a line and as a list. */
export function PlanPart({ plan, stages }: PlanPartProps) {
  const [next] = plan.visits
  const staying = plan.notPlanned.filter((stage) => stage.stays)
  const left = plan.notPlanned.filter((stage) => !stage.stays)
  const along = next?.changes.filter((change) => change.because !== 'forced') ?? []
  return (
    <SheetPart title="The visits to come">
      <p className="household-next">
        <b>{plan.next}</b>
        {plan.savings.length > 0 && ` ${plan.savings.join(' ')}`}
      </p>
      <Reasons lines={[...groupedBy(along, 'too'), ...groupedBy(staying, 'stays'), ...groupedBy(left, 'not now')]} />
      {plan.visits.length > 0 && <VisitsLine plan={plan} stages={stages} />}
      {plan.visits.length > 0 && <VisitsList plan={plan} />}
      <PlanWishesForm plan={plan} />
    </SheetPart>
  )
}

interface ReasonLine {
  readonly names: readonly string[]
  readonly unit: string
  readonly verdict: 'too' | 'not now' | 'stays'
  readonly why: string
}

/** Stages of a unit with one and the same reason stand on one line. */
function groupedBy(
  stages: readonly { readonly label: string; readonly unit: string; readonly why: string }[],
  verdict: ReasonLine['verdict'],
): ReasonLine[] {
  const lines = new Map<string, ReasonLine>()
  for (const { label, unit, why } of stages) {
    const key = `${unit} ${why}`
    const names = [...(lines.get(key)?.names ?? []), lines.has(key) ? label.toLowerCase() : label]
    lines.set(key, { names, unit, verdict, why })
  }
  return [...lines.values()]
}

/** What else is seen to and why; what is due soon and left, and why. */
function Reasons({ lines }: { readonly lines: readonly ReasonLine[] }) {
  if (lines.length === 0) return null
  return (
    <dl className="household-why">
      {lines.map(({ names, unit, verdict, why }) => (
        <div key={`${unit} ${names.join()} ${verdict}`}>
          <dt>
            {listed(names)} {verdict}
            {unit !== '' && <span className="second small household-details">{unit}</span>}
          </dt>
          <dd>{why}</dd>
        </div>
      ))}
    </dl>
  )
}

function VisitsLine({ plan, stages }: PlanPartProps) {
  const { locale, today } = useOffice()
  const { graceDays } = useOfficeState().settings
  const [place, width] = useWidth(556)
  const isLate = stages.some((stage) => stage.dueOn !== null && stage.dueOn < today)
  const drawing = drawVisits(
    {
      // What is late already shows where it begins, as far back as two months.
      from: isLate ? addDays(today, -60) : today,
      until: plan.horizonOn,
      stages,
      visits: plan.visits,
      graceDays,
      locale,
    },
    width,
  )
  return (
    <div ref={place} className="household-line">
      <DrawnPicture title="The visits to come" words={plan.sentences.join(' ')} drawing={drawing} />
    </div>
  )
}

function VisitsList({ plan }: { readonly plan: HouseholdPlan }) {
  const { currency, locale } = useOffice()
  return (
    <details className="household-log">
      <summary>
        {plan.visits.length} visits until <DateText date={plan.horizonOn} />,{' '}
        {formatCents(plan.totalCents, currency, locale)} in all
      </summary>
      <table className="plain-table">
        <caption className="second small">
          {plan.figures.join('; ')}
          {plan.creditCents > 0 &&
            `; ${formatCents(plan.creditCents, currency, locale)} of life left at the end taken off`}
        </caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col">At the latest</th>
            <th scope="col">What</th>
            <th scope="col" className="figures">
              Cost
            </th>
          </tr>
        </thead>
        <tbody>
          {plan.visits.map((visit) => (
            <tr key={visit.visitOn}>
              <th scope="row">
                <DateText date={visit.visitOn} />
              </th>
              <td>
                <DateText date={visit.latestOn} />
              </td>
              <td>
                {visitInWords(visit)}, {minutesInWords(visit.minutes)}
              </td>
              <td className="figures">{formatCents(visit.cents, currency, locale)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}
