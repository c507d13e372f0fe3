import { NumberField } from '../design/NumberField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { roomToShow, roomTyped } from './room-words.ts'

interface RoomFieldProps {
  readonly label: string
  readonly note: string
  /** Whole millilitres; null where nobody measured it. */
  readonly value: number | null
  readonly onChange: (millilitres: number | null) => void
}

/** Room in the office's own measure: cubic feet or litres. */
export function RoomField({ label, note, value, onChange }: RoomFieldProps) {
  const { measures } = useOffice()
  return (
    <NumberField
      label={label}
      note={note}
      unit={measures === 'us' ? 'ft³' : 'L'}
      digits={measures === 'us' ? 2 : 1}
      least={0}
      value={value === null ? null : roomToShow(value, measures)}
      onChange={(room) => onChange(room === null || room === 0 ? null : roomTyped(room, measures))}
      chars={8}
    />
  )
}
