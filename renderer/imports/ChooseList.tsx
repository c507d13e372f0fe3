import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useRef, useState } from 'react'
import { MOST_MEGABYTES } from '../../core/imports/imports-contract.ts'
import { problem } from '../../core/problems.ts'
import { Button } from '../design/Button.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { ProgressLine } from '../design/ProgressLine.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { ask, problemOf, type ToldProblem } from '../shell/office-door.ts'
import './import.css'

/** Where a list is chosen or dropped. Too large a file is turned away before it travels. */
export function ChooseList({ onHeld }: { readonly onHeld: (fileId: number) => void }) {
  const input = useRef<HTMLInputElement>(null)
  const [isOver, setOver] = useState(false)
  const [refusal, setRefusal] = useState<ToldProblem | null>(null)
  const questions = useQueryClient()
  const bring = useMutation(
    ask.imports.bring.mutationOptions({
      onSuccess: (look) => {
        questions.setQueryData(ask.imports.look.queryKey({ input: { fileId: look.fileId } }), look)
        onHeld(look.fileId)
      },
    }),
  )
  const choose = (file: File | null | undefined): void => {
    if (!file) return
    const tooLarge = file.size > MOST_MEGABYTES * 1024 * 1024
    setRefusal(tooLarge ? problem('IMPORT_FILE_TOO_LARGE', { file: file.name, most: MOST_MEGABYTES }) : null)
    if (!tooLarge) bring.mutate({ file })
  }
  const told = refusal ?? (bring.error === null ? null : problemOf(bring.error))
  return (
    <Sheets>
      <Sheet title="Bring a list of households">
        <div className="import-page">
          <p>
            Any list will do that a spreadsheet saves as CSV: one household a row, or one stage a row. Its columns may
            be called anything. Nothing is written until you have looked through it and say so.
          </p>
          {told !== null && <ProblemNote problem={told} id={told.id} />}
          {bring.isPending ? (
            <ProgressLine words="Reading the list" done={0} total={null} />
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
              <p className="second small">Up to {MOST_MEGABYTES} MB; 20,000 households take about ten seconds.</p>
            </section>
          )}
        </div>
      </Sheet>
    </Sheets>
  )
}
