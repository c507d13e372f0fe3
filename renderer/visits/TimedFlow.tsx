import { useState } from 'react'
import { flowText } from '../../core/units/measures.ts'
import { readTimedFlow } from '../../core/water/timed-flow.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { useOffice } from '../design/office-manner.ts'

const VESSELS = [
  { id: 'oz', words: 'fluid ounces' },
  { id: 'cup', words: 'cups' },
  { id: 'qt', words: 'quarts' },
  { id: 'mL', words: 'millilitres' },
  { id: 'L', words: 'litres' },
] as const
type Vessel = (typeof VESSELS)[number]['id']

/** Flow by a vessel of known volume and a watch: hands on what was timed, as it is typed in the flow's field ("16 oz in 95 s"). */
export function TimedFlow({ onTimed }: { readonly onTimed: (flow: string) => void }) {
  const { measures } = useOffice()
  const [amount, setAmount] = useState('')
  const [vessel, setVessel] = useState<Vessel>(measures === 'us' ? 'oz' : 'mL')
  const [time, setTime] = useState('')
  const typed = `${amount} ${vessel} in ${time}${time.includes(':') ? '' : ' s'}`
  const flow = amount.trim() === '' || time.trim() === '' ? null : readTimedFlow(typed)
  return (
    <details className="report-timed">
      <summary>Time the flow with a vessel and a watch</summary>
      <div>
        <TextField label="The vessel holds" value={amount} onChange={setAmount} inputMode="decimal" figures chars={8} />
        <ChoiceField label="In" choices={VESSELS} value={vessel} onChange={setVessel} chars={12} />
        <TextField label="Seconds to fill it" value={time} onChange={setTime} inputMode="decimal" figures chars={8} />
        <Button isDisabled={flow === null} onPress={() => onTimed(typed)}>
          {flow === null ? 'Take this flow' : `Take ${flowText(flow, measures)}`}
        </Button>
      </div>
    </details>
  )
}
