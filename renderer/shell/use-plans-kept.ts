import { useQuery } from '@tanstack/react-query'
import { useEffect, useRef } from 'react'
import { ask } from './office-door.ts'
import { useWork } from './use-work.ts'

const EVERY_SO_OFTEN = 20_000

/**
 * Has the visits of those households planned that have no plan which stands: when the office opens, on a new day, after a list was
 * brought in, and when a figure that plans rest on was changed. It runs behind everybody's work; the frame shows how far it is. Stopped
 * by somebody, it waits for the next day or the next opening.
 */
export function usePlansKept(today: string): void {
  const stoppedOn = useRef<string | null>(null)
  // Not asked anew with every change, as other questions are: in a large office the counting takes a moment.
  const plans = useQuery(ask.visits.plansToMake.queryOptions({ enabled: false }))
  const { refetch } = plans
  const running = useQuery(ask.work.running.queryOptions({ staleTime: 5_000 }))
  const { start, isRunning } = useWork('plan-visits', (state) => {
    // Whatever did not end well is not tried again and again.
    if (state.state !== 'done') stoppedOn.current = today
    void refetch()
  })
  const isWanted = (plans.data?.count ?? 0) > 0 && !plans.isFetching
  // Elsewhere somebody may have started it already, and a list that is being written is planned when it is there.
  const isFree = running.data?.length === 0
  // The day is not used by the question itself: a new one asks at once.
  const askedOn = useRef<string | null>(null)
  useEffect(() => {
    if (askedOn.current !== today) void refetch()
    askedOn.current = today
    const timer = setInterval(() => void refetch(), EVERY_SO_OFTEN)
    return () => clearInterval(timer)
  }, [today, refetch])
  // One answer starts one work: what it said is over when the work is.
  const startedFor = useRef(0)
  const { dataUpdatedAt } = plans
  useEffect(() => {
    if (!isWanted || !isFree || isRunning || stoppedOn.current === today || startedFor.current === dataUpdatedAt) return
    startedFor.current = dataUpdatedAt
    start({})
  }, [isWanted, isFree, isRunning, today, dataUpdatedAt, start])
}
