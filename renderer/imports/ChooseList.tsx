import { useMutation } from '@tanstack/react-query'
import { useRef, useState } from 'react'
import { MOST_MEGABYTES } from '../../core/imports/imports-contract.ts'
import { MOST_ROWS } from '../../core/imports/open-list.ts'
import { problem } from '../../core/problems.ts'
import { Button } from '../design/Button.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { ProgressLine } from '../design/ProgressLine.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { problemOf, type ToldProblem } from '../shell/office-door.ts'
import { sendFile } from './send-file.ts'
import './import.css'

interface ChooseListProps {
  readonly onHeld: (fileId: number) => void
  /** Why the list before this one could not be read. */
  readonly problem: ToldProblem | null
}

/** Where a list is chosen or dropped. Too large a file is turned away before it travels; any other travels in pieces. */
export function ChooseList({ onHeld, problem: before }: ChooseListProps) {
  const input = useRef<HTMLInputElement>(null)
  const stopped = useRef(false)
  const [isOver, setOver] = useState(false)
  const [refusal, setRefusal] = useState<ToldProblem | null>(before)
  const [sent, setSent] = useState(0)
  const bring = useMutation({
    mutationFn: (file: File) => sendFile(file, setSent, () => stopped.current),
    onSuccess: (fileId) => {
      if (fileId !== null) onHeld(fileId)
    },
  })
  const choose = (file: File | null | undefined): void => {
    if (!file) return
    const tooLarge = file.size > MOST_MEGABYTES * 1024 * 1024
    setRefusal(tooLarge ? problem('IMPORT_FILE_TOO_LARGE', { file: file.name, most: MOST_MEGABYTES }) : null)
    if (tooLarge) {
      bring.reset()
      return
    }
    stopped.current = false
    setSent(0)
    bring.mutate(file)
  }
  const told = refusal ?? (bring.error === null ? null : problemOf(bring.error))
  return (
    <Sheets>
      <Sheet title="Bring a list of households">
        <div className="import-page">
          <p>
            Any list will do that a spreadsheet saves as CSV: a household a row with a column for each stage or one date
            for all of them, or a stage a row. Its columns may be called anything. Nothing is written until you have
            looked through it and say so.
          </p>
          {told !== null && <ProblemNote problem={told} id={told.id} />}
          {bring.isPending ? (
            <ProgressLine
              words={`Bringing ${bring.variables.name}`}
              done={kilobytes(sent)}
              total={kilobytes(bring.variables.size)}
              onStop={() => {
                stopped.current = true
              }}
              note="In kilobytes. Stopped, nothing of it is kept."
            />
          ) : (
            <section
              className="import-drop"
              aria-label="Drop a list here"
              data-over={isOver}
              onDragOver={(event) => {
                event.preventDefault()
                setOver(true)
              }}
              onDragLeave={() => setOver(false)}
              onDrop={(event) => {
                event.preventDefault()
                setOver(false)
                choose(event.dataTransfer.files[0])
              }}
            >
              <p className="bold">Drop the file here, or choose it.</p>
              <input
                ref={input}
                className="import-file"
                type="file"
                accept=".csv,.tsv,.txt,text/csv"
                aria-label="A list, as CSV"
                tabIndex={-1}
                onChange={(event) => {
                  choose(event.target.files?.[0])
                  event.target.value = ''
                }}
              />
              <Button kind="primary" onPress={() => input.current?.click()}>
                Choose a list
              </Button>
              <p className="second small">
                {`Up to ${MOST_MEGABYTES} MB or ${MOST_ROWS.toLocaleString('en-US')} rows; 20,000 households take about ten seconds.`}
              </p>
            </section>
          )}
        </div>
      </Sheet>
    </Sheets>
  )
}

function kilobytes(bytes: number): number {
  return Math.ceil(bytes / 1024)
}
