import type { RecallSheetFacts } from '../../core/stock/recall-contract.ts'
import { counted } from '../../core/units/date-words.ts'

/** Where every piece of the lot is: what came in on the left, and on the right the same pieces, each once. Then whom to ring about vans. */
export function RecallFigures({ sheet }: { readonly sheet: RecallSheetFacts }) {
  const { figures, places, vans } = sheet
  const came = figures.received + figures.found
  const atHomes = figures.fitted - sheet.noLongerFitted
  const rows = [
    ['in bins', figures.inBins],
    ['on vans', figures.onVans],
    ['in quarantine', figures.quarantined],
    ['on the way', figures.inTransit],
    ['at homes', atHomes],
    ['fitted, changed since', sheet.noLongerFitted],
    ['thrown away', figures.scrapped],
    ['back to the supplier', figures.toSupplier],
    ['missing at a count', figures.missing],
  ] as const
  const shown = rows.filter(([words, pieces]) => pieces !== 0 || words === 'in quarantine' || words === 'at homes')
  return (
    <>
      <dl className="recall-figures">
        <div>
          <dt>{figures.found === 0 ? 'came in' : `came in, ${figures.found} of them found at counts`}</dt>
          <dd>
            <b>{came}</b>
          </dd>
        </div>
        {shown.map(([words, pieces]) => (
          <div key={words}>
            <dt>{words}</dt>
            <dd>{pieces}</dd>
          </div>
        ))}
      </dl>
      {places.some((place) => place.kind !== 'quarantine') && (
        <p className="second">{places.map((place) => `${place.pieces} in ${place.place}`).join(', ')}</p>
      )}
      {vans.length > 0 && <Vans vans={vans} isRecalled={sheet.recalledOn !== null} />}
    </>
  )
}

/** Pieces that somebody drives about: to be set aside at once and brought back. */
function Vans({ vans, isRecalled }: { readonly vans: RecallSheetFacts['vans']; readonly isRecalled: boolean }) {
  return (
    <ul className="recall-vans">
      {vans.map(({ van, technician, phone, aboard, setAside }) => {
        const pieces = aboard + (isRecalled ? setAside : 0)
        if (pieces === 0) return null
        const who = technician === null ? 'nobody drives it' : `${technician}${phone === '' ? '' : `, ${phone}`}`
        return (
          <li key={van}>
            <b>
              {counted(pieces, 'piece')} on {van}
            </b>
            : {who}
            {isRecalled && <span className="second">. Set aside, fit none, bring back into quarantine.</span>}
          </li>
        )
      })}
    </ul>
  )
}
