import { useState } from 'react'
import { drawFlow } from '../../core/due/flow-picture.ts'
import { flowStoryOf, rejectionStoryOf } from '../../core/due/household-pictures.ts'
import type { HouseholdMeasurements, UnitMeasurements } from '../../core/due/measurement-shapes.ts'
import { drawRejection } from '../../core/due/rejection-picture.ts'
import { Button } from '../design/Button.tsx'
import { DrawnPicture } from '../design/DrawnPicture.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SheetPart } from '../design/Sheet.tsx'
import { useWidth } from '../design/use-width.ts'
import { FlowFigures, RejectionFigures } from './PictureFigures.tsx'
import { ReadingsTable } from './ReadingsTable.tsx'
import { TakeReading } from './TakeReading.tsx'

interface MembranePartProps {
  readonly unit: UnitMeasurements
  readonly marks: HouseholdMeasurements['marks']
  /** More than one unit: each says where it stands. */
  readonly isNamed: boolean
}

/** What was measured at a unit: rejection and flow as pictures and in words, and every reading. */
export function MembranePart({ unit, marks, isNamed }: MembranePartProps) {
  const [isTaking, setTaking] = useState(false)
  const where = isNamed ? `, ${unit.name.toLowerCase()}` : ''
  return (
    <>
      {unit.membrane !== null && <Rejection unit={unit} marks={marks} where={where} />}
      {unit.flow.points.length + unit.flow.causes.length > 0 && <Flow unit={unit} marks={marks} where={where} />}
      <SheetPart
        title={`Readings${where}`}
        aside={
          <Button kind="quiet" onPress={() => setTaking(!isTaking)} aria-expanded={isTaking}>
            Write down a reading
          </Button>
        }
      >
        {isTaking && <TakeReading unit={unit} onDone={() => setTaking(false)} />}
        {unit.readings.length === 0 ? (
          <p className="second">Nothing was measured here yet.</p>
        ) : (
          <ReadingsTable readings={unit.readings} />
        )}
        {unit.meterWords !== '' && <p>Drunk: {unit.meterWords}.</p>}
        {unit.remarks.map((remark) => (
          <p key={remark} className="household-remark">
            {remark}
          </p>
        ))}
        <p className="second small">
          A TDS figure says nothing about germs, lead or nitrate: that takes a certified laboratory.
        </p>
      </SheetPart>
    </>
  )
}

interface PictureProps {
  readonly unit: UnitMeasurements
  readonly marks: HouseholdMeasurements['marks']
  readonly where: string
}

function Rejection({ unit, marks, where }: PictureProps) {
  const { today } = useOffice()
  const [place, width] = useWidth(556)
  const drawing = drawRejection(rejectionStoryOf(unit, marks, today), width)
  return (
    <SheetPart title={`What the membrane holds back, %${where}`}>
      <div ref={place}>
        {drawing && (
          <DrawnPicture
            title="Rejection of this membrane"
            words={unit.rejection.sentences.join(' ')}
            drawing={drawing}
          />
        )}
      </div>
      <Sentences sentences={unit.rejection.sentences} />
      <RejectionFigures unit={unit} />
    </SheetPart>
  )
}

function Flow({ unit, marks, where }: PictureProps) {
  const { today, measures } = useOffice()
  const [place, width] = useWidth(556)
  const drawing = drawFlow(flowStoryOf(unit, marks, today), width, measures)
  return (
    <SheetPart title={`Flow, put right to 25 °C and to one pressure${where}`}>
      <div ref={place}>
        {drawing && (
          <DrawnPicture title="Flow of this membrane" words={unit.flow.sentences.join(' ')} drawing={drawing} />
        )}
      </div>
      <Sentences sentences={unit.flow.sentences} />
      {unit.flow.causes.length > 0 && (
        <ul className="household-causes">
          {unit.flow.causes.map((cause) => (
            <li key={cause.kind}>
              <b>{cause.name}.</b> {cause.sentence} {cause.next}
            </li>
          ))}
        </ul>
      )}
      <FlowFigures unit={unit} />
    </SheetPart>
  )
}

/** What a picture comes to: the finding first, in bold, then how sure it is. */
function Sentences({ sentences }: { readonly sentences: readonly string[] }) {
  if (sentences.length === 0) return null
  return (
    <div className="household-finding">
      {sentences.map((sentence, index) => (
        <p key={sentence} className={index === 0 ? 'bold' : undefined}>
          {sentence}
        </p>
      ))}
    </div>
  )
}
