import { useMutation, useQuery } from '@tanstack/react-query'
import { ProgressLine } from '../design/ProgressLine.tsx'
import { ask } from './office-door.ts'

/** Long work that is running, however it was started: how far it is, and the way to stop it. */
export function WorkLines() {
  const running = useQuery(
    ask.work.running.queryOptions({ refetchInterval: (query) => ((query.state.data?.length ?? 0) > 0 ? 500 : 5_000) }),
  )
  const stop = useMutation(ask.work.stop.mutationOptions())
  const works = (running.data ?? []).filter((work) => work.state === 'running')
  if (works.length === 0) return null
  return (
    <div className="work-lines">
      {works.map((work) => (
        <ProgressLine
          key={work.workId}
          words={work.saying}
          done={work.done}
          total={work.total > 0 ? work.total : null}
          onStop={() => stop.mutate({ workId: work.workId })}
        />
      ))}
    </div>
  )
}
