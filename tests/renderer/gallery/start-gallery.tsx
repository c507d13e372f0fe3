import { createRoot } from 'react-dom/client'
import { calendarDate } from '../../../core/units/calendar-date.ts'
import { OfficeMannerContext } from '../../../renderer/design/office-manner.ts'
import { UndoPlace } from '../../../renderer/design/UndoLine.tsx'
import { Gallery } from './Gallery.tsx'
import '../../../renderer/design/tokens.css'
import '../../../renderer/design/page.css'
import '../../../renderer/shell/frame.css'
import './gallery.css'

const MANNER = {
  name: 'Larkmoor Water',
  today: calendarDate('2026-12-01'),
  locale: 'en-US',
  currency: 'USD',
  measures: 'us',
} as const

const place = document.getElementById('gallery')
const part = new URLSearchParams(location.search).get('part') ?? 'table'
if (place)
  createRoot(place).render(
    <OfficeMannerContext.Provider value={MANNER}>
      <UndoPlace>
        {(line) => (
          <>
            <Gallery part={part} />
            {line}
          </>
        )}
      </UndoPlace>
    </OfficeMannerContext.Provider>,
  )
