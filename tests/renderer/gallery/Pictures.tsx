import { drawFlow } from '../../../core/due/flow-picture.ts'
import { drawRejection } from '../../../core/due/rejection-picture.ts'
import type { Drawing } from '../../../core/units/drawing.ts'
import { drawVisits } from '../../../core/visits/visits-line.ts'
import { DrawnPicture } from '../../../renderer/design/DrawnPicture.tsx'
import { Sheet, SheetPart, Sheets } from '../../../renderer/design/Sheet.tsx'
import { StageTrain } from '../../../renderer/design/StageTrain.tsx'
import { useWidth } from '../../../renderer/design/use-width.ts'
import { BELOW, FAILING, FALLEN, HEALTHY, TEN_VISITS, TOO_FEW } from './some-stories.ts'
import { LATE_TRAIN } from './some-trains.ts'

/** Every picture of a household in its states, two widths beside each other. */
export function Pictures() {
  return (
    <Sheets>
      <Sheet title="Pictures of a household">
        <div className="gallery-pictures">
          <Shown title="Failing" draw={(width) => drawRejection(FAILING, width)} />
          <Shown title="Below" draw={(width) => drawRejection(BELOW, width)} />
          <Shown title="Healthy" draw={(width) => drawRejection(HEALTHY, width)} />
          <Shown title="Too few" draw={(width) => drawRejection(TOO_FEW, width)} />
          <Shown title="Flow" draw={(width) => drawFlow(FALLEN, width, 'us')} />
          <Shown title="Visits" draw={(width) => drawVisits(TEN_VISITS, width)} />
        </div>
        <SheetPart title="The train, large">
          <StageTrain
            stages={LATE_TRAIN}
            size="large"
            notes={new Map(LATE_TRAIN.slice(3, 6).map((stage) => [stage.stageId, 'along: would fall due in 7 weeks']))}
            open={LATE_TRAIN[0]?.stageId ?? null}
            onOpen={() => undefined}
          />
        </SheetPart>
      </Sheet>
    </Sheets>
  )
}

function Shown({ title, draw }: { readonly title: string; readonly draw: (width: number) => Drawing | null }) {
  const [place, width] = useWidth(556)
  const drawing = draw(width)
  return (
    <div ref={place}>
      <h2>{title}</h2>
      {drawing && <DrawnPicture title={title} words="In words beside it." drawing={drawing} />}
    </div>
  )
}
