/** The frame and the pages that most begin with, in one piece: fetched together where they are shown, and not at the lift. */
export { FleetPage } from '../pages/fleet/fleet-page.js'
export { SignInPage } from '../pages/sign-in/sign-in-page.js'
export { Gate } from './gate.js'
export { Layout } from './layout.js'
