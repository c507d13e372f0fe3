import { createHashHistory, createRootRoute, createRoute, createRouter } from '@tanstack/react-router'
import { DeskScreen } from '../desk/DeskScreen.tsx'
import { readAddressWords } from './address-words.ts'
import { Frame } from './Frame.tsx'
import { NoSuchPlace } from './NoSuchPlace.tsx'
import { SCREENS } from './screens.tsx'

const root = createRootRoute({ component: Frame, notFoundComponent: NoSuchPlace, validateSearch: readAddressWords })

const home = createRoute({ getParentRoute: () => root, path: '/', component: DeskScreen })

const screens = SCREENS.map(({ address, Screen }) =>
  createRoute({ getParentRoute: () => root, path: address, component: () => <Screen /> }),
)

/** Addresses behind a hash, so that the desktop's own scheme and the served office need the same one page. */
export function createPlaces() {
  return createRouter({
    routeTree: root.addChildren([home, ...screens]),
    history: createHashHistory(),
    defaultPreload: 'intent',
  })
}
