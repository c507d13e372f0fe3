import { useMutation, useQuery } from '@tanstack/react-query'
import { useEffect, useState } from 'react'
import { LETTER_KINDS, type LetterKind } from '../../core/letters/letter-kinds.ts'
import {
  checkWording,
  LETTER_FIELD_NAMES,
  LETTER_FIELDS,
  type LetterWording,
} from '../../core/letters/letter-wording.ts'
import type { KeptWording } from '../../core/letters/letters-contract.ts'
import { Button } from '../design/Button.tsx'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, Sheet, SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useAddressWord } from '../shell/open-record.ts'
import { LetterPicture } from './LetterPicture.tsx'
import { ViewChoice } from './ViewChoice.tsx'
import './letters.css'

const KINDS = LETTER_KINDS.map((kind) => ({ id: kind, words: kind }))

export function useWordingKind(): readonly [LetterKind, (kind: LetterKind) => void] {
  const [word, setWord] = useAddressWord('kind')
  return [LETTER_KINDS.find((kind) => kind === word) ?? 'first', setWord]
}

/** The dealer's own words for one of the three letters. What is typed is kept, and drawn beside as it will be printed. */
export function WordingSheet({
  onTyped,
  onLook,
}: {
  readonly onTyped: (wording: LetterWording) => void
  /** Shows the page; null while it lies beside. */
  readonly onLook: (() => void) | null
}) {
  const [kind, setKind] = useWordingKind()
  const kept = useQuery(ask.letters.wordings.queryOptions())
  const wording = kept.data?.kept.find((each) => each.kind === kind)
  const ours = kept.data?.ours.find((each) => each.kind === kind)
  return (
    <Sheet
      title={`The wording of the ${kind} letter`}
      choices={
        <InlineChoices>
          <ViewChoice />
          <InlineChoice words="letter" label="Which letter" choices={KINDS} value={kind} onChange={setKind} />
        </InlineChoices>
      }
      actions={onLook && <Button onPress={onLook}>Look at the page</Button>}
    >
      {kept.error && <ProblemNote problem={problemOf(kept.error)} onTryAgain={() => void kept.refetch()} />}
      {wording && ours && (
        <WordingForm key={`${kind} ${wording.version}`} kept={wording} ours={ours} onTyped={onTyped} />
      )}
    </Sheet>
  )
}

function WordingForm({
  kept,
  ours,
  onTyped,
}: {
  readonly kept: KeptWording
  readonly ours: LetterWording
  readonly onTyped: (wording: LetterWording) => void
}) {
  const { draft, setDraft, discard, isChanged } = useDraft<KeptWording>(`wording-${kept.kind}`, kept)
  const say = useSay()
  const saving = useMutation({
    mutationFn: () => office.letters.saveWording({ ...draft, version: kept.version }),
    onSuccess: () => {
      discard()
      say({ said: `The wording of the ${kept.kind} letter is saved.` })
    },
  })
  useEffect(() => onTyped(draft), [draft, onTyped])
  const checked = checkWording(draft)
  const set = (part: 'subject' | 'body' | 'answer') => (text: string) =>
    setDraft((before) => ({ ...before, [part]: text }))
  const isBlank = [draft.subject, draft.body, draft.answer].some((text) => text.trim() === '')
  return (
    <div className="wording-form">
      <TextField label="Subject" value={draft.subject} onChange={set('subject')} />
      <TextField
        label="Letter"
        value={draft.body}
        onChange={set('body')}
        lines={10}
        note="An empty line begins a new paragraph."
      />
      <TextField
        label="How to answer"
        value={draft.answer}
        onChange={set('answer')}
        lines={3}
        note="Its first sentence is set in bold."
      />
      {!checked.ok && <ProblemNote problem={checked.problem} />}
      {saving.error && <ProblemNote problem={problemOf(saving.error)} kept="What you typed is still here." />}
      <div className="form-foot">
        <Button
          kind="primary"
          onPress={() => saving.mutate()}
          isDisabled={!isChanged || !checked.ok || isBlank || saving.isPending}
        >
          Save the wording
        </Button>
        {isChanged && <Button onPress={discard}>Drop the changes</Button>}
        <Button kind="quiet" onPress={() => setDraft({ ...ours, version: kept.version })}>
          Take our wording
        </Button>
      </div>
      <SheetPart title="Fields in braces">
        <dl className="letter-fields small">
          {LETTER_FIELD_NAMES.map((name) => (
            <div key={name} style={{ display: 'contents' }}>
              <dt>{`{${name}}`}</dt>
              <dd className="second">{LETTER_FIELDS[name]}</dd>
            </div>
          ))}
        </dl>
      </SheetPart>
    </div>
  )
}

/** The page beside the form, a moment after the last key. */
export function WordingPreview({
  wording,
  onClose,
}: {
  readonly wording: LetterWording
  readonly onClose: () => void
}) {
  const settled = useSettled(wording)
  const isWhole =
    checkWording(settled).ok && [settled.subject, settled.body, settled.answer].every((text) => text.trim() !== '')
  const { kind, subject, body, answer } = settled
  const shown = useQuery(
    ask.letters.preview.queryOptions({
      input: { customerId: null, kind, wording: { kind, subject, body, answer } },
      enabled: isWhole,
      placeholderData: (before) => before,
    }),
  )
  return (
    <SecondSheet
      title="As it will be printed"
      below="An example: the household does not exist."
      onClose={onClose}
      backTo="the wording"
    >
      {shown.error && <ProblemNote problem={problemOf(shown.error)} />}
      {shown.data && <LetterPicture preview={shown.data} />}
    </SecondSheet>
  )
}

const MOMENT_MS = 300

function useSettled<Value>(value: Value): Value {
  const [settled, setSettled] = useState(value)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), MOMENT_MS)
    return () => clearTimeout(timer)
  }, [value])
  return settled
}
