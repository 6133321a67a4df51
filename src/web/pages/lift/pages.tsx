import { Route, Routes } from 'react-router'
import AnodePage from './anode-page.js'
import BoatAtLiftPage from './boat-at-lift-page.js'
import BoatPage from './boat-page.js'
import LiftFrame from './lift-frame.js'
import ListPage from './list-page.js'
import LoggedPage from './logged-page.js'
import OutboxPage from './outbox-page.js'
import SummaryPage from './summary-page.js'

/** All pages at the lift, in one piece: none of them may be left behind by the network. */
export default function LiftPages() {
  return (
    <Routes>
      <Route element={<LiftFrame />}>
        <Route index element={<ListPage />} />
        <Route path="outbox" element={<OutboxPage />} />
        <Route path=":boat/logged/:entry" element={<LoggedPage />} />
        <Route path=":boat" element={<BoatAtLiftPage />}>
          <Route index element={<BoatPage />} />
          <Route path="anodes/:anode" element={<AnodePage />} />
          <Route path="summary" element={<SummaryPage />} />
        </Route>
      </Route>
    </Routes>
  )
}
