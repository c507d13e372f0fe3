import type { UnitMeasurements } from '../../core/due/measurement-shapes.ts'
import { fieldText, unitOf } from '../../core/water/read-figure.ts'
import { useOffice } from '../design/office-manner.ts'
import { DateText } from '../design/Words.tsx'

/** The figures behind the picture of rejection: what each reading held back and let through, and whether it counts. */
export function RejectionFigures({ unit }: { readonly unit: UnitMeasurements }) {
  const readings = unit.readings.filter((one) => one.ofThisMembrane && one.rejectionPercent !== null)
  if (readings.length === 0) return null
  return (
    <details className="household-figures">
      <summary>The figures behind it</summary>
      <table className="plain-table figures">
        <caption className="for-ears">Rejection, reading by reading, the latest first</caption>
        <thead>
          <tr>
            <th scope="col">Measured</th>
            <th scope="col">Held back, %</th>
            <th scope="col">Let through, %</th>
            <th scope="col">Standing</th>
          </tr>
        </thead>
        <tbody>
          {readings.map((reading) => (
            <tr key={reading.readingId}>
              <th scope="row">
                <DateText date={reading.takenOn} />
              </th>
              <td>{(reading.rejectionPercent ?? 0).toFixed(1)}</td>
              <td>{(100 - (reading.rejectionPercent ?? 0)).toFixed(1)}</td>
              <td>{reading.struck ? 'struck out' : reading.unlikely ? 'unlikely, does not count' : 'counts'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}

/** The figures behind the picture of flow: as measured and put right, and what was taken as usual. */
export function FlowFigures({ unit }: { readonly unit: UnitMeasurements }) {
  const { measures } = useOffice()
  return (
    <details className="household-figures">
      <summary>The figures behind it</summary>
      <table className="plain-table figures">
        <caption className="for-ears">Flow, reading by reading, the latest first</caption>
        <thead>
          <tr>
            <th scope="col">Measured</th>
            <th scope="col">As measured, {unitOf('flow', measures)}</th>
            <th scope="col">Put right, {unitOf('flow', measures)}</th>
            <th scope="col">Standing</th>
          </tr>
        </thead>
        <tbody>
          {unit.flow.points.toReversed().map((point) => (
            <tr key={point.readingId}>
              <th scope="row">
                <DateText date={point.on} />
              </th>
              <td>{fieldText('flow', point.measured, measures)}</td>
              <td>{point.corrected === null ? 'too little pressure' : fieldText('flow', point.corrected, measures)}</td>
              <td>
                {[point.unlikely ? 'unlikely, does not count' : 'counts', point.takenWords]
                  .filter((part) => part !== '')
                  .join('; ')}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}
