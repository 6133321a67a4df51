import { useEffect } from 'react'
import { Link, Outlet, ScrollRestoration, useLocation } from 'react-router'
import { type SignedIn, useMe, useSignOut } from '../api/session.js'
import { ROLE_WORDS } from '../wording/words.js'
import './shell.css'

/** The frame round every page: name, who is looking, the caution. */
export function Layout() {
  const me = useMe()
  const { pathname } = useLocation()
  // A new page is read from its start by screen readers too, as after a full load.
  useEffect(() => {
    if (pathname) document.getElementById('main')?.focus({ preventScroll: true })
  }, [pathname])
  return (
    <div className="shell">
      <a className="button skip" href="#main">
        To the content
      </a>
      <header className="topbar">
        <div className="topbar-inner">
          <Link className="wordmark" to="/">
            <Mark />
            Anode Ledger
          </Link>
          {me.data && <Who me={me.data} />}
        </div>
      </header>
      <main id="main" tabIndex={-1}>
        <Outlet />
      </main>
      <footer className="footer">
        <p className="footer-inner">
          A measuring aid, not a survey. Local codes and licensed practice come first; lift and survey whatever could
          sink a boat.
        </p>
      </footer>
      <ScrollRestoration />
    </div>
  )
}

function Who({ me }: { me: SignedIn }) {
  const signOut = useSignOut()
  return (
    <>
      <span className="who">{sayWho(me)}</span>
      {me.demo ? (
        <Link className="button button-plain" to="/sign-in">
          Look as another
        </Link>
      ) : (
        <button type="button" className="button button-plain" onClick={() => signOut.mutate()}>
          Sign out
        </button>
      )}
    </>
  )
}

function sayWho(me: SignedIn): string {
  return [me.organisation.name, me.demo ? null : me.email, ROLE_WORDS[me.role]].filter(Boolean).join(' · ')
}

function Mark() {
  return (
    <svg viewBox="0 0 36 24" aria-hidden="true">
      <path
        d="M2 8q0-6 6-6h20q6 0 6 6v6q0 7-6 8l-4-3-4 3-4-5-5 4q-9 1-9-7z"
        fill="none"
        stroke="currentColor"
        strokeWidth="2.500"
      />
      <circle cx="11" cy="9" r="2.500" fill="currentColor" />
      <circle cx="25" cy="9" r="2.500" fill="currentColor" />
    </svg>
  )
}
