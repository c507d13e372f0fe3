import { useMutation } from '@tanstack/react-query'
import type { LosingVisitRow, PullDay, VanPullRow } from '../../core/stock/pull-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useGoTo } from '../shell/open-record.ts'
import { allTheSameWords, parWords, roomWords } from './losing-words.ts'
import './losing.css'

interface LosingVisitsProps {
  readonly day: PullDay
  readonly van: VanPullRow
}

/** Visits of a van that cannot be served whole, each with the reason and what can be done; then how full the van is. */
export function LosingVisits({ day, van }: LosingVisitsProps) {
  const { measures } = useOffice()
  const room = roomWords(van, measures)
  const par = parWords(van)
  if (van.losers.length === 0 && room === '' && par === '') return null
  return (
    <section className="losing" aria-label={`Who is not served, and how full ${van.van} is`}>
      {van.losers.length > 0 && (
        <>
          <h2 className="losing-head">{counted(van.losers.length, 'visit')} cannot be served whole</h2>
          {!day.proved && (
            <p className="second">
              There was too much to weigh: those served are the best set that was found, and there may be a better one.
            </p>
          )}
          <ul className="losing-list">
            {van.losers.map((visit) => (
              <LosingVisit key={visit.visitId} day={day} van={van} visit={visit} />
            ))}
          </ul>
        </>
      )}
      {room !== '' && <p className={isOverfull(van) ? 'bold' : 'second'}>{room}</p>}
      {par !== '' && <p className="second">{par}</p>}
    </section>
  )
}

const isOverfull = ({ room }: VanPullRow): boolean => room !== null && room.taken > room.has

function LosingVisit({ day, van, visit }: LosingVisitsProps & { readonly visit: LosingVisitRow }) {
  const say = useSay()
  const goTo = useGoTo()
  const begin = useMutation({
    ...ask.pull.begin.mutationOptions(),
    onSuccess: () => say({ said: `${counted(visit.couldHave, 'piece')} promised to ${visit.household} all the same.` }),
  })
  return (
    <li>
      <p>
        <b>
          Stop {visit.stop}, {visit.household}
        </b>{' '}
        {visit.reason}
      </p>
      {visit.pulledAllTheSame > 0 && (
        <p className="second">{counted(visit.pulledAllTheSame, 'piece')} pulled for it all the same.</p>
      )}
      {begin.error !== null && <ProblemNote problem={problemOf(begin.error)} id={problemOf(begin.error).id} />}
      {!day.isPast && (
        <div className="losing-acts">
          <Button
            glove
            onPress={() => goTo('/visits', String(visit.visitId))}
            aria-label={`Move the visit of ${visit.household}`}
          >
            Move the visit
          </Button>
          {visit.couldHave > 0 && (
            <Button
              glove
              isDisabled={begin.isPending}
              onPress={() => begin.mutate({ on: day.on, vanIds: [van.vanId], evenIfShort: [visit.visitId] })}
            >
              {allTheSameWords(van, visit)}
            </Button>
          )}
        </div>
      )}
    </li>
  )
}
