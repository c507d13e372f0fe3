import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { labelsAddress, MOST_OF_ONE } from '../../core/stock/label-order.ts'
import { counted } from '../../core/units/date-words.ts'
import type { PartId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { printPaper } from '../design/save-file.ts'
import { ask, problemOf } from '../shell/office-door.ts'

/** Labels of one part and its lots, printed from its sheet. */
export function PartLabels({ partId, onDone }: { readonly partId: PartId; readonly onDone: () => void }) {
  const sources = useQuery(ask.labels.ofPart.queryOptions({ input: { partId } }))
  const [counts, setCounts] = useState<ReadonlyMap<string, number>>(new Map())
  const [beginWith, setBeginWith] = useState(1)
  const wanted = (sources.data ?? []).flatMap(({ kind, id }) => {
    const count = counts.get(`${kind} ${id}`) ?? 0
    return count > 0 ? [{ kind, id, count }] : []
  })
  const all = wanted.reduce((sum, each) => sum + each.count, 0)
  return (
    <form
      className="stock-form"
      onSubmit={(event) => {
        event.preventDefault()
        if (all > 0) void printPaper(labelsAddress({ wanted, beginWith, partBars: 'own' }))
      }}
    >
      {sources.error && <ProblemNote problem={problemOf(sources.error)} />}
      <div className="stock-form-row">
        {sources.data?.map(({ kind, id, lot, pieces }) => (
          <NumberField
            key={`${kind} ${id}`}
            label={kind === 'lot' ? `Lot ${lot}` : 'The part itself'}
            note={kind === 'lot' ? `${pieces} there` : 'no lot on it'}
            value={counts.get(`${kind} ${id}`) ?? 0}
            least={0}
            most={MOST_OF_ONE}
            onChange={(count) => setCounts(new Map(counts).set(`${kind} ${id}`, count ?? 0))}
            chars={7}
          />
        ))}
        <NumberField
          label="Begin with label"
          note="of the first sheet"
          value={beginWith}
          least={1}
          most={30}
          onChange={(value) => setBeginWith(value ?? 1)}
          chars={7}
        />
      </div>
      <div className="stock-form-row">
        <Button kind="primary" type="submit" isDisabled={all === 0}>
          Print {counted(all, 'label')}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
      </div>
    </form>
  )
}
