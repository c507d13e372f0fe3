import { useMutation } from '@tanstack/react-query'
import type { RecallSheetFacts } from '../../core/stock/recall-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'

interface FormProps {
  readonly sheet: RecallSheetFacts
  readonly onClose: () => void
}

const NOTHING_YET = { why: '', notice: '' }

/** The press that recalls a lot: what will happen stands above it. */
export function RecallLotSheet({ sheet, onClose }: FormProps) {
  const say = useSay()
  const { draft, setDraft, discard } = useDraft(`recall-${sheet.lotId}`, NOTHING_YET)
  const recall = useMutation({
    ...ask.recall.recallLot.mutationOptions(),
    onSuccess: ({ sentence }) => {
      say({ said: sentence })
      discard()
      onClose()
    },
  })
  const { figures, homes, lotId, lot } = sheet
  const isReady = draft.why.trim() !== ''
  return (
    <SecondSheet title={`Recall lot ${lot}`} below={sheet.partName} onClose={onClose} backTo="the lot">
      <p className="recall-says">
        {counted(figures.inBins + figures.onVans, 'piece')} from bins and vans go to quarantine at once. Pulls give
        theirs back and are planned anew from other lots. {counted(homes.length, 'home')} fall due today. Letters and
        visits follow from here, each with a press of its own.
      </p>
      <form
        className="stock-form"
        onSubmit={(event) => {
          event.preventDefault()
          if (isReady) recall.mutate({ lotId, why: draft.why, notice: draft.notice })
        }}
      >
        <TextField
          label="What is wrong"
          value={draft.why}
          onChange={(why) => setDraft({ ...draft, why })}
          note="In the words that the letters will use: the end caps come loose."
          isRequired
        />
        <TextField
          label="Whose notice"
          value={draft.notice}
          onChange={(notice) => setDraft({ ...draft, notice })}
          note="The supplier’s reference and its day. Its instructions go before ours."
        />
        {recall.error && <ProblemNote problem={problemOf(recall.error)} kept="What you typed is still here." />}
        <div className="stock-form-row">
          <Button kind="primary" type="submit" isDisabled={!isReady || recall.isPending}>
            Recall lot {lot}
          </Button>
          <Button kind="quiet" onPress={onClose}>
            Leave it
          </Button>
        </div>
      </form>
    </SecondSheet>
  )
}

/** Taking a recall back: what that does, and what it does not. */
export function FreeLotSheet({ sheet, onClose }: FormProps) {
  const say = useSay()
  const { draft, setDraft, discard } = useDraft(`free-${sheet.lotId}`, NOTHING_YET)
  const free = useMutation({
    ...ask.recall.freeLot.mutationOptions(),
    onSuccess: ({ sentence }) => {
      say({ said: sentence })
      discard()
      onClose()
    },
  })
  const { lotId, lot, homes, figures } = sheet
  const written = homes.filter((home) => home.writtenOn !== null).length
  const booked = homes.filter((home) => home.visit?.changes).length
  return (
    <SecondSheet title={`Lot ${lot} is fit for use again`} below={sheet.partName} onClose={onClose} backTo="the recall">
      <p className="recall-says">
        {counted(figures.quarantined, 'piece')} go back from quarantine to where they lay, as far as those places are in
        use. Due dates go back to what they were.
      </p>
      {written > 0 && (
        <p>{counted(written, 'household')} had a letter: tell them. What was posted cannot be taken back.</p>
      )}
      {booked > 0 && <p>{counted(booked, 'visit')} stay booked: cancel those that are needed no more.</p>}
      <form
        className="stock-form"
        onSubmit={(event) => {
          event.preventDefault()
          free.mutate({ lotId, why: draft.why })
        }}
      >
        <TextField
          label="Why"
          value={draft.why}
          onChange={(why) => setDraft({ ...draft, why })}
          note="For the history: the notice was withdrawn."
        />
        {free.error && <ProblemNote problem={problemOf(free.error)} kept="What you typed is still here." />}
        <div className="stock-form-row">
          <Button kind="primary" type="submit" isDisabled={free.isPending}>
            Free lot {lot} for use
          </Button>
          <Button kind="quiet" onPress={onClose}>
            Leave it
          </Button>
        </div>
      </form>
    </SecondSheet>
  )
}
