import { createHashHistory, createRootRoute, createRoute, createRouter } from '@tanstack/react-router'
import { type ComponentType, Suspense } from 'react'
import { DeskScreen } from '../desk/DeskScreen.tsx'
import { readAddressWords } from './address-words.ts'
import { FaultBoundary } from './FaultBoundary.tsx'
import { Frame } from './Frame.tsx'
import { NoSuchPlace } from './NoSuchPlace.tsx'
import { SCREENS } from './screens.tsx'

const root = createRootRoute({ component: Frame, notFoundComponent: NoSuchPlace, validateSearch: readAddressWords })

/**
 * Each place keeps its own faults. One boundary around all of them would be at the next address before the next sheet is, and take the
 * broken one's fault along.
 */
function placeAt(address: string, Screen: ComponentType) {
  return createRoute({
    getParentRoute: () => root,
    path: address,
    component: () => (
      <FaultBoundary>
        <Suspense fallback={<p className="frame-wait second">Fetching the sheet …</p>}>
          <Screen />
        </Suspense>
      </FaultBoundary>
    ),
  })
}

const places = [placeAt('/', DeskScreen), ...SCREENS.map(({ address, Screen }) => placeAt(address, Screen))]

/** Addresses behind a hash, so that the desktop's own scheme and the served office need the same one page. */
export function createPlaces() {
  return createRouter({
    routeTree: root.addChildren(places),
    history: createHashHistory(),
    defaultPreload: 'intent',
  })
}
