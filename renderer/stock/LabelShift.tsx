import { useMutation } from '@tanstack/react-query'
import { Button } from '../design/Button.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { printPaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { office, problemOf } from '../shell/office-door.ts'

interface Shift {
  readonly rightMm: number | null
  readonly downMm: number | null
}

/** What the printer strays by: measured on frames printed on plain paper, written down once, made good on every sheet. */
export function LabelShift({ rightMm, downMm }: { readonly rightMm: number; readonly downMm: number }) {
  const say = useSay()
  const saved = { rightMm, downMm }
  const { draft, setDraft, discard, isChanged } = useDraft<Shift>('label-shift', saved)
  const change = useMutation({
    mutationFn: async (to: { rightMm: number; downMm: number }) => {
      const from = saved
      if (to.rightMm !== from.rightMm)
        await office.settings.change({ name: 'labelShiftRightMm', from: from.rightMm, to: to.rightMm })
      if (to.downMm !== from.downMm)
        await office.settings.change({ name: 'labelShiftDownMm', from: from.downMm, to: to.downMm })
    },
    onSuccess: () => {
      discard()
      say({ said: 'Labels are printed so much further from now on.' })
    },
  })
  const { rightMm: right, downMm: down } = draft
  return (
    <div className="label-shift">
      <h3 className="small bold">Where your printer strays</h3>
      <p className="second small">
        Print the frames on plain paper at full size, hold them behind a sheet of labels, and write how far everything
        must move.
      </p>
      <div className="stock-form-row">
        <NumberField
          label="To the right"
          unit="mm"
          digits={1}
          least={-5}
          most={5}
          value={right}
          onChange={(value) => setDraft({ ...draft, rightMm: value })}
          chars={5}
        />
        <NumberField
          label="Down"
          unit="mm"
          digits={1}
          least={-5}
          most={5}
          value={down}
          onChange={(value) => setDraft({ ...draft, downMm: value })}
          chars={5}
        />
      </div>
      {change.error && <ProblemNote problem={problemOf(change.error)} kept="What you typed is still here." />}
      <div className="stock-form-row">
        {isChanged && (
          <Button
            isDisabled={right === null || down === null || change.isPending}
            onPress={() => right !== null && down !== null && change.mutate({ rightMm: right, downMm: down })}
          >
            Keep this for every sheet
          </Button>
        )}
        <Button kind="quiet" onPress={() => void printPaper('/papers/label-frames.pdf')}>
          Print the frames
        </Button>
      </div>
    </div>
  )
}
