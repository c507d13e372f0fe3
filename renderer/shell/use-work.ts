import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useEffect, useRef, useState } from 'react'
import type { WorkState } from '../../core/work/work-contract.ts'
import { ask, office } from './office-door.ts'

/**
 * One piece of long work as a screen follows it: `start(input)`, the state while it runs (twice a second), `stop()`. When it is over every answer is asked anew, and
 * `onOver` hears how it ended (outcome, refusal, stopped).
 */
export function useWork(name: string, onOver?: (state: WorkState) => void) {
  const questions = useQueryClient()
  const [workId, setWorkId] = useState<string | null>(null)
  const begin = useMutation({
    mutationFn: (input: unknown) => office.work.start({ name, input }),
    onSuccess: (begun) => setWorkId(begun.workId),
  })
  const followed = useQuery(
    ask.work.progress.queryOptions({
      input: { workId: workId ?? '' },
      enabled: workId !== null,
      refetchInterval: (query) =>
        query.state.data === undefined || query.state.data.state === 'running' ? 500 : false,
    }),
  )
  const stopping = useMutation(ask.work.stop.mutationOptions())
  const state = workId === null ? null : (followed.data ?? null)
  const ending = state !== null && state.state !== 'running' ? `${state.workId} ${state.state}` : null
  const told = useRef<string | null>(null)
  useEffect(() => {
    // Once for each ending: the state is a new object at every look, and the listener may be a new function at every drawing.
    if (ending === null || state === null || told.current === ending) return
    told.current = ending
    void questions.invalidateQueries()
    onOver?.(state)
  }, [ending, state, onOver, questions])
  return {
    start: (input: unknown): void => begin.mutate(input),
    stop: (): void => {
      if (workId !== null) stopping.mutate({ workId })
    },
    state,
    isRunning: begin.isPending || state?.state === 'running' || (workId !== null && state === null),
    error: begin.error ?? followed.error,
    /** Forgets the last piece, so that the form can be used again. */
    forget: (): void => setWorkId(null),
  }
}
