import { Button } from '../design/Button.tsx'
import { type Choice, ChoiceField } from '../design/ChoiceField.tsx'

interface OrderedChoicesProps {
  /** What they are for: "Stands in for it". */
  readonly label: string
  /** What adds one: "Add a part". */
  readonly addWords: string
  /** What it means that none is chosen. */
  readonly none: string
  readonly choices: readonly Choice<string>[]
  /** The chosen ones, the first to be taken first. */
  readonly value: readonly string[]
  readonly onChange: (value: readonly string[]) => void
}

/** Several of a list in an order that counts. */
export function OrderedChoices({ label, addWords, none, choices, value, onChange }: OrderedChoicesProps) {
  const wordsOf = (id: string): string => choices.find((choice) => choice.id === id)?.words ?? 'no longer in use'
  const left = choices.filter((choice) => !value.includes(choice.id))
  const swap = (index: number): void => {
    const [earlier, later] = [value[index - 1], value[index]]
    if (earlier !== undefined && later !== undefined)
      onChange([...value.slice(0, index - 1), later, earlier, ...value.slice(index + 1)])
  }
  return (
    <fieldset className="ordered-choices">
      <legend className="field-label">{label}</legend>
      {value.length === 0 && <p className="second">{none}</p>}
      <ol aria-label={label}>
        {value.map((id, index) => (
          <li key={id}>
            <span className="ordered-words">{wordsOf(id)}</span>
            <Button
              kind="quiet"
              isDisabled={index === 0}
              onPress={() => swap(index)}
              aria-label={`Earlier: ${wordsOf(id)}`}
            >
              Earlier
            </Button>
            <Button
              kind="quiet"
              onPress={() => onChange(value.filter((each) => each !== id))}
              aria-label={`Take out ${wordsOf(id)}`}
            >
              Take out
            </Button>
          </li>
        ))}
      </ol>
      {left.length > 0 && (
        <ChoiceField
          label={addWords}
          choices={left}
          value={null}
          onChange={(id) => onChange([...value, id])}
          unchosen="Choose"
          chars={26}
        />
      )}
    </fieldset>
  )
}
