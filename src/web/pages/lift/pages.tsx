import { lazy, Suspense, useEffect } from 'react'
import { Route, Routes } from 'react-router'
import LiftFrame from './lift-frame.js'
import { useLiftWords } from './lift-words.js'
import ListPage from './list-page.js'

const loadBoatPages = () => import('./boat-pages.js')
const BoatPages = lazy(loadBoatPages)

/** After the list stands: the other pages are there before the network goes, and do not slow the list down. */
const LOAD_AHEAD_MS = 1500

/** All pages at the lift. */
export default function LiftPages() {
  const t = useLiftWords()
  useEffect(() => {
    const wait = setTimeout(() => void loadBoatPages().catch(() => undefined), LOAD_AHEAD_MS)
    return () => clearTimeout(wait)
  }, [])
  const boatPages = (
    <Suspense fallback={<p className="lift-page waiting">{t('frame.waiting')}</p>}>
      <BoatPages />
    </Suspense>
  )
  return (
    <Routes>
      <Route element={<LiftFrame />}>
        <Route index element={<ListPage />} />
        <Route path="*" element={boatPages} />
      </Route>
    </Routes>
  )
}
