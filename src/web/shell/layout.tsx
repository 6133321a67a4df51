import { useEffect, useRef } from 'react'
import { Link, Outlet, useLocation } from 'react-router'
import { type SignedIn, useMe, useSignOut } from '../api/session.js'
import { useAreas } from '../i18n/areas-of-page.js'
import { Menu } from './menu.js'
import { ScrollMemory } from './scroll-memory.js'
import { t } from './shell-words.js'
import './shell.css'

/** The frame round every page: name, who is looking, the caution. */
export function Layout() {
  useAreas('shell', 'words')
  const me = useMe()
  const { pathname } = useLocation()
  const shown = useRef(pathname)
  // A new page is read from its start by screen readers too, as after a full load.
  useEffect(() => {
    if (shown.current !== pathname) document.getElementById('main')?.focus({ preventScroll: true })
    shown.current = pathname
  }, [pathname])
  return (
    <div className="shell">
      <a className="button skip" href="#main">
        {t('toContent')}
      </a>
      <header className="topbar">
        <div className="topbar-inner">
          <Link className="wordmark" to="/">
            <Mark />
            Anode Ledger
          </Link>
          {me.data && (
            <Menu role={me.data.role}>
              <Who me={me.data} />
            </Menu>
          )}
        </div>
      </header>
      <main id="main" tabIndex={-1}>
        <Outlet />
      </main>
      <footer className="footer">
        <p className="footer-inner">{t('caution')}</p>
      </footer>
      <ScrollMemory />
    </div>
  )
}

function Who({ me }: { me: SignedIn }) {
  const signOut = useSignOut()
  return (
    <>
      <span className="who">
        <span className="who-where">
          {[me.organisation.name, me.demo ? null : me.email].filter(Boolean).join(' · ')} ·{' '}
        </span>
        {t(`role.${me.role}`)}
      </span>
      <Link className="button button-plain" to="/settings">
        <Cog />
        <span className="who-settings">{t('settings')}</span>
      </Link>
      {me.demo ? (
        <Link className="button button-plain" to="/sign-in">
          {t('lookAsOther')}
        </Link>
      ) : (
        <button type="button" className="button button-plain" onClick={() => signOut.mutate()}>
          {t('signOut')}
        </button>
      )}
    </>
  )
}

function Cog() {
  return (
    <svg viewBox="0 0 24 24" width="22" height="22" aria-hidden="true">
      <circle cx="12" cy="12" r="5.500" fill="none" stroke="currentColor" strokeWidth="3" />
      <path
        d="M12 1v5M12 18v5M1 12h5M18 12h5M4.200 4.200l3.600 3.600M16.200 16.200l3.600 3.600M4.200 19.800l3.600-3.600M16.200 7.800l3.600-3.600"
        stroke="currentColor"
        strokeWidth="2.600"
      />
    </svg>
  )
}

/** The gauge of the fleet list in small: metal left, metal gone, the notch where it is due. */
function Mark() {
  return (
    <svg viewBox="0 0 36 20" aria-hidden="true">
      <rect
        x="1.250"
        y="3.250"
        width="33.500"
        height="13.500"
        rx="4"
        fill="none"
        stroke="currentColor"
        strokeWidth="2.500"
      />
      <rect x="1.250" y="3.250" width="21" height="13.500" rx="4" fill="currentColor" />
      <path d="M17 0v20" stroke="var(--boot-top)" strokeWidth="3" />
    </svg>
  )
}
