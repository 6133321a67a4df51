import { lazy, Suspense } from 'react'
import { Link, Outlet, type RouteObject, useRoutes } from 'react-router'
import { sayAtStart } from './i18n/start-words.js'
import { Begun } from './shell/begun.js'
import { Caught } from './shell/caught.js'
import { Waiting } from './shell/waiting.js'

const firstPages = () => import('./shell/first-pages.js')
const Layout = lazy(() => firstPages().then((pages) => ({ default: pages.Layout })))
const Gate = lazy(() => firstPages().then((pages) => ({ default: pages.Gate })))
const FleetPage = lazy(() => firstPages().then((pages) => ({ default: pages.FleetPage })))
const SignInPage = lazy(() => firstPages().then((pages) => ({ default: pages.SignInPage })))
const BoatPage = lazy(() => import('./pages/boat/boat-page.js'))
const DeskPage = lazy(() => import('./pages/desk/desk-page.js'))
const FindingPage = lazy(() => import('./pages/findings/finding-page.js'))
const FindingsPage = lazy(() => import('./pages/findings/findings-page.js'))
const BoatMetalsPage = lazy(() => import('./pages/galvanic/boat-metals-page.js'))
const CouplesPage = lazy(() => import('./pages/galvanic/couples-page.js'))
const HaulOutPage = lazy(() => import('./pages/haul-out/haul-out-page.js'))
const LiftPages = lazy(() => import('./pages/lift/pages.js'))
const ModelPage = lazy(() => import('./pages/model/model-page.js'))
const PontoonsPage = lazy(() => import('./pages/pontoons/pontoons-page.js'))
const PricesPage = lazy(() => import('./pages/prices/prices-page.js'))
const ReferencePage = lazy(() => import('./pages/reference/reference-page.js'))
const TablePage = lazy(() => import('./pages/reference/table-page.js'))
const SizingPage = lazy(() => import('./pages/sizing/sizing-page.js'))
const LinkPage = lazy(() => import('./pages/sign-in/link-page.js'))
const YoursPage = lazy(() => import('./pages/owner/yours-page.js'))
const PeoplePage = lazy(() => import('./pages/settings/people-page.js'))
const SettingsPage = lazy(() => import('./pages/settings/settings-page.js'))
const LetterPage = lazy(() => import('./pages/letters/letter-page.js'))
const OpenLetterPage = lazy(() => import('./pages/letters/open-letter-page.js'))
const NoticesPage = lazy(() => import('./pages/notices/notices-page.js'))
const StatusPage = lazy(() => import('./pages/status/status-page.js'))
const WebhooksPage = lazy(() => import('./pages/webhooks/webhooks-page.js'))
const FleetSetUpPage = lazy(() => import('./pages/set-up/fleet-set-up-page.js'))
const LabelsPage = lazy(() => import('./pages/set-up/labels-page.js'))
const SetUpPage = lazy(() => import('./pages/sign-in/set-up-page.js'))

const ROUTES: RouteObject[] = [
  // A frame of its own: nothing there may wait for an answer of the service.
  { path: '/lift/*', element: <Caught>{later(<LiftPages />)}</Caught> },
  {
    element: <Caught>{later(<Layout />)}</Caught>,
    children: [
      {
        element: (
          <Caught>
            <Outlet />
          </Caught>
        ),
        children: [
          { path: '/sign-in', element: later(<SignInPage />) },
          { path: '/sign-in/link', element: later(<LinkPage />) },
          { path: '/letters/open/:token', element: later(<OpenLetterPage />) },
          { path: '/letters/:token', element: later(<LetterPage />) },
          { path: '/set-up', element: later(<SetUpPage />) },
          {
            element: later(<Gate />),
            children: [
              { path: '/', element: later(<FleetPage />) },
              { path: '/boats/:boat', element: later(<BoatPage />) },
              { path: '/boats/:boat/galvanic', element: later(<BoatMetalsPage />) },
              { path: '/boats/:boat/haul-out', element: later(<HaulOutPage />) },
              { path: '/desk', element: later(<DeskPage />) },
              { path: '/findings', element: later(<FindingsPage />) },
              { path: '/findings/:finding', element: later(<FindingPage />) },
              { path: '/galvanic', element: later(<CouplesPage />) },
              { path: '/model', element: later(<ModelPage />) },
              { path: '/pontoons', element: later(<PontoonsPage />) },
              { path: '/reference', element: later(<ReferencePage />) },
              { path: '/reference/:table', element: later(<TablePage />) },
              { path: '/yours', element: later(<YoursPage />) },
              { path: '/settings', element: later(<SettingsPage />) },
              { path: '/settings/people', element: later(<PeoplePage />) },
              { path: '/settings/letters', element: later(<NoticesPage />) },
              { path: '/settings/prices', element: later(<PricesPage />) },
              { path: '/settings/status', element: later(<StatusPage />) },
              { path: '/settings/webhooks', element: later(<WebhooksPage />) },
              { path: '/set-up/fleet', element: later(<FleetSetUpPage />) },
              { path: '/set-up/labels', element: later(<LabelsPage />) },
              { path: '/sizing', element: later(<SizingPage />) },
            ],
          },
          { path: '*', element: <NoSuchPage /> },
        ],
      },
    ],
  },
]

export function Pages() {
  return useRoutes(ROUTES)
}

function later(page: React.ReactNode) {
  return (
    <Suspense fallback={<Waiting />}>
      {page}
      <Begun />
    </Suspense>
  )
}

function NoSuchPage() {
  return (
    <div className="page">
      <h1>{sayAtStart('noPage')}</h1>
      <p>
        <Link className="button" to="/">
          {sayAtStart('toFleet')}
        </Link>
      </p>
    </div>
  )
}
