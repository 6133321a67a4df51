import { Route, Routes } from 'react-router'
import AnodePage from './anode-page.js'
import BoatAtLiftPage from './boat-at-lift-page.js'
import BoatPage from './boat-page.js'
import LoggedPage from './logged-page.js'
import OutboxPage from './outbox-page.js'
import SummaryPage from './summary-page.js'

/** The pages behind the list, in one piece: none of them may be left behind by the network. */
export default function BoatPages() {
  return (
    <Routes>
      <Route path="outbox" element={<OutboxPage />} />
      <Route path=":boat/logged/:entry" element={<LoggedPage />} />
      <Route path=":boat" element={<BoatAtLiftPage />}>
        <Route index element={<BoatPage />} />
        <Route path="anodes/:anode" element={<AnodePage />} />
        <Route path="summary" element={<SummaryPage />} />
      </Route>
    </Routes>
  )
}
