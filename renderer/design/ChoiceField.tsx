import type { ReactNode } from 'react'
import {
  Button as AriaButton,
  FieldError,
  Label,
  ListBox,
  ListBoxItem,
  Popover,
  Select,
  SelectValue,
  Text,
} from 'react-aria-components'
import type { FieldProps } from './Field.tsx'
import './field.css'
import './menu.css'

/** One of a list. `words` is what stands in the list and on the field. */
export interface Choice<Id extends string> {
  readonly id: Id
  readonly words: string
  /** A second line in the list: what choosing it means. */
  readonly note?: string
}

interface ChoiceFieldProps<Id extends string> extends FieldProps {
  readonly choices: readonly Choice<Id>[]
  readonly value: Id | null
  readonly onChange: (value: Id) => void
  /** What stands there while nothing is chosen. */
  readonly unchosen?: string
}

/** One of a list, as a field of a form. */
export function ChoiceField<Id extends string>(props: ChoiceFieldProps<Id>) {
  const { label, note, problem, chars, choices, value, onChange, unchosen = 'Choose', ...rest } = props
  const width = chars === undefined ? undefined : { width: `calc(${chars}ch + 40px)` }
  return (
    <Select
      {...rest}
      className="field"
      value={value}
      onChange={(key) => choose(choices, key, onChange)}
      isInvalid={problem !== undefined && problem !== null}
      validationBehavior="aria"
      placeholder={unchosen}
    >
      <Label className="field-label">{label}</Label>
      <AriaButton className="field-input choice-button" style={width}>
        <SelectValue>{({ selectedText, defaultChildren }) => selectedText || defaultChildren}</SelectValue>
        <span aria-hidden="true">▾</span>
      </AriaButton>
      {note !== undefined && (
        <Text slot="description" className="field-note">
          {note}
        </Text>
      )}
      <FieldError className="field-problem">{problem ?? undefined}</FieldError>
      <ChoiceList choices={choices} />
    </Select>
  )
}

interface InlineChoiceProps<Id extends string> {
  /** The words before the choice: "within". */
  readonly words: string
  /** What is chosen, for ears: "How far ahead". */
  readonly label: string
  readonly choices: readonly Choice<Id>[]
  readonly value: Id
  readonly onChange: (value: Id) => void
}

/** A choice within a sentence, dotted underline: "within **4 weeks**". */
export function InlineChoice<Id extends string>({ words, label, choices, value, onChange }: InlineChoiceProps<Id>) {
  // The name begins with what is seen, so that someone who speaks to the machine can say it.
  const seen = `${words} ${choices.find((choice) => choice.id === value)?.words ?? ''}`
  return (
    <Select
      className="inline-choice"
      aria-label={`${seen}, ${label}`}
      value={value}
      onChange={(key) => choose(choices, key, onChange)}
    >
      <AriaButton className="inline-choice-button">
        {words} <SelectValue className="bold">{({ selectedText }) => selectedText}</SelectValue>
      </AriaButton>
      <ChoiceList choices={choices} />
    </Select>
  )
}

/** The line of inline choices over a table. */
export function InlineChoices({ children }: { readonly children: ReactNode }) {
  return <div className="inline-choices">{children}</div>
}

function ChoiceList<Id extends string>({ choices }: { readonly choices: readonly Choice<Id>[] }) {
  return (
    <Popover className="menu-sheet">
      <ListBox className="menu" items={choices.map((choice) => ({ ...choice }))}>
        {(choice) => (
          <ListBoxItem id={choice.id} textValue={choice.words} className="menu-item">
            {choice.note === undefined ? (
              choice.words
            ) : (
              <span className="two-lines">
                <Text slot="label">{choice.words}</Text>
                <Text slot="description">{choice.note}</Text>
              </span>
            )}
          </ListBoxItem>
        )}
      </ListBox>
    </Popover>
  )
}

function choose<Id extends string>(choices: readonly Choice<Id>[], key: unknown, onChange: (value: Id) => void): void {
  const choice = choices.find((candidate) => candidate.id === key)
  if (choice) onChange(choice.id)
}
