import { Navigate, Outlet, useLocation } from 'react-router'
import { usePreferences } from '../api/preferences.js'
import { useMe } from '../api/session.js'
import { Trouble, Waiting } from './waiting.js'

/** Lets the signed in through, an owner at the door to their boats; sends others to the sign-in page and back afterwards. */
export function Gate() {
  const me = useMe()
  const { pathname, search } = useLocation()
  if (me.isPending) return <Waiting />
  if (me.isError) return <Trouble error={me.error} retry={me.refetch} />
  if (me.data === null) return <Navigate to={`/sign-in?then=${encodeURIComponent(pathname + search)}`} replace />
  if (me.data.role === 'owner' && pathname === '/') return <Navigate to="/yours" replace />
  return (
    <>
      <Preferences />
      <Outlet />
    </>
  )
}

/** What somebody chose on another device holds on this one too. */
function Preferences() {
  usePreferences()
  return null
}
