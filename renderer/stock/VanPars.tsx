import type { PartLedgerRow, PlaceLine } from '../../core/stock/stock-contract.ts'
import { partIdSchema } from '../../core/units/ids.ts'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { NumberField } from '../design/NumberField.tsx'

type Pars = NonNullable<PlaceLine['van']>['pars']

interface VanParsProps {
  readonly parts: readonly PartLedgerRow[]
  /** Only what differs from what the parts say. */
  readonly pars: Pars
  readonly onChange: (pars: Pars) => void
}

/** What a van always carries: what every van carries by the parts, and what this one carries otherwise. */
export function VanPars({ parts, pars, onChange }: VanParsProps) {
  const own = new Map(pars.map((row) => [row.partId, row.par]))
  const inUse = parts.filter((part) => !part.closed)
  const shown = inUse.filter((part) => part.vanPar > 0 || own.has(part.partId))
  const others = inUse.filter((part) => !shown.includes(part))
  const set = (part: PartLedgerRow, par: number | null): void => {
    const rest = pars.filter((row) => row.partId !== part.partId)
    onChange(par === null ? rest : [...rest, { partId: part.partId, par }])
  }
  return (
    <fieldset className="ordered-choices">
      <legend className="field-label">Always carried; the pull tops the van up to it</legend>
      {shown.length === 0 && <p className="second">Nothing yet: only what its visits need is pulled for it.</p>}
      <div className="stock-form-row">
        {shown.map((part) => (
          <NumberField
            key={part.partId}
            label={`${part.name} ${part.number}`}
            note={part.vanPar > 0 ? `Blank: ${part.vanPar}, as every van.` : 'Blank: none.'}
            value={own.get(part.partId) ?? null}
            onChange={(par) => set(part, par)}
            least={0}
            most={1000}
            chars={6}
          />
        ))}
      </div>
      {others.length > 0 && (
        <ChoiceField
          label="Another part for this van"
          choices={[
            { id: 'none', words: 'choose one' },
            ...others.map((part) => ({ id: String(part.partId), words: part.name, note: part.number })),
          ]}
          value="none"
          onChange={(id) => {
            const partId = partIdSchema.safeParse(Number(id))
            const part = partId.success ? others.find((each) => each.partId === partId.data) : undefined
            if (part) set(part, 1)
          }}
        />
      )}
    </fieldset>
  )
}
