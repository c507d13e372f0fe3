import { useQuery } from '@tanstack/react-query'
import { useEffect, useRef } from 'react'
import { ask } from './office-door.ts'
import { useWork } from './use-work.ts'

/**
 * Has the visits of those households planned that have no plan which stands: when the office opens, on a new day, after a list was
 * brought in, and when a figure that plans rest on was changed. It runs behind everybody's work; the frame shows how far it is. Stopped by somebody, it
 * waits for the next day or the next opening.
 */
export function usePlansKept(today: string): void {
  const stoppedOn = useRef<string | null>(null)
  const plans = useQuery(ask.visits.plansToMake.queryOptions({ staleTime: 60_000 }))
  const running = useQuery(ask.work.running.queryOptions({ staleTime: 5_000 }))
  const { start, isRunning } = useWork('plan-visits', (state) => {
    // Whatever did not end well is not tried again and again.
    if (state.state !== 'done') stoppedOn.current = today
  })
  const isWanted = (plans.data?.count ?? 0) > 0 && !plans.isFetching
  // Elsewhere somebody may have started it already, and a list that is being written is planned when it is there.
  const isFree = running.data?.length === 0
  useEffect(() => {
    if (isWanted && isFree && !isRunning && stoppedOn.current !== today) start({})
  }, [isWanted, isFree, isRunning, today, start])
}
