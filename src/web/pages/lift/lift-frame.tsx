import type { ReactNode } from 'react'
import { Link, Navigate, Outlet, useLocation } from 'react-router'
import { ServiceProblem } from '../../api/problem.js'
import { countWaiting } from '../../offline/outbox-entry.js'
import { clockError } from '../../offline/service-clock.js'
import { useWho } from '../../offline/use-held.js'
import { useIsOnline, useOutbox } from '../../offline/use-outbox.js'
import { ScrollMemory } from '../../shell/scroll-memory.js'
import { saySpanOf, sayTime, useLiftWords } from './lift-words.js'
import './lift.css'
import './outbox.css'

const UNAUTHENTICATED = 401

/**
 * The frame of the pages at the lift: they open without a network, as whoever was signed in last. Until it is known who
 * that is, they can be used already: nothing of the service is asked for by then.
 */
export default function LiftFrame() {
  const t = useLiftWords()
  const who = useWho()
  const { pathname } = useLocation()
  const isSignedOut = who.error instanceof ServiceProblem && who.error.status === UNAUTHENTICATED
  const signIn = `/sign-in?then=${encodeURIComponent(pathname)}`
  if (who.held === null && !who.isPending) {
    if (isSignedOut) return <Navigate to={signIn} replace />
    // A page that begins anew also asks for files that could not be loaded.
    return <LiftTrouble error={who.error} retry={() => location.reload()} />
  }
  if (who.held?.value.permissions.includes('lift:write') === false) {
    return (
      <div className="lift-page stack">
        <p>{t('frame.staffOnly')}</p>
        <Link className="button" to="/">
          {t('frame.toFleet')}
        </Link>
      </div>
    )
  }
  return (
    <div className="lift">
      <Notices
        heldAt={who.held?.heldAt ?? null}
        isReached={who.error === null || isSignedOut}
        signIn={isSignedOut ? signIn : null}
      />
      <Outlet />
      <ScrollMemory />
    </div>
  )
}

interface NoticesProps {
  /** When the service was last heard; null while it is not known who looks. */
  heldAt: string | null
  /** Whether the service answered when it was last asked. */
  isReached: boolean
  /** Where to sign in; null while somebody is. */
  signIn: string | null
}

/** What stands in the way, one line each. */
function Notices({ heldAt, isReached, signIn }: NoticesProps) {
  const t = useLiftWords()
  const isOnline = useIsOnline()
  const { entries } = useOutbox()
  const clock = clockError()
  const by = clock === null ? '' : saySpanOf(clock, t)
  return (
    <div className="lift-notices" role="status">
      {signIn !== null && (
        <p className="lift-notice lift-notice-act">
          <span>{t('frame.signedOut', { count: countWaiting(entries).waiting })}</span>
          <Link className="button" to={signIn}>
            {t('frame.signIn')}
          </Link>
        </p>
      )}
      {signIn === null && heldAt !== null && (!isOnline || !isReached) && (
        <p className="lift-notice">{t('frame.offline', { at: sayTime(heldAt) })}</p>
      )}
      {clock !== null && (
        <p className="lift-notice">{clock > 0 ? t('frame.clockAhead', { by }) : t('frame.clockBehind', { by })}</p>
      )}
    </div>
  )
}

interface LiftBarProps {
  title: string
  /** Where back leads; the list has none. */
  back?: string
  /** Beside the title. */
  children?: ReactNode
}

/** The bar of each page: back, what this is, how the outbox stands. */
export function LiftBar({ title, back, children }: LiftBarProps) {
  const t = useLiftWords()
  return (
    <header className="lift-bar">
      <title>{`${title} · Anode Ledger`}</title>
      <div className="lift-bar-inner">
        <Link className="lift-back" to={back ?? '/'} aria-label={back === undefined ? t('frame.toFleet') : t('back')}>
          <svg viewBox="0 0 24 24" aria-hidden="true">
            <path d="M15 4 7 12l8 8" fill="none" stroke="currentColor" strokeWidth="3" />
          </svg>
        </Link>
        <h1>
          <bdi>{title}</bdi>
        </h1>
        {children}
        <OutboxPill />
      </div>
    </header>
  )
}

function OutboxPill() {
  const t = useLiftWords()
  const { entries } = useOutbox()
  const { waiting, refused } = countWaiting(entries)
  const text =
    refused > 0
      ? t('pill.refused', { count: refused })
      : waiting > 0
        ? t('pill.waiting', { count: waiting })
        : t('pill.none')
  const state = refused > 0 ? 'refused' : waiting > 0 ? 'waiting' : 'none'
  return (
    <Link className="lift-pill" data-state={state} to="/lift/outbox" aria-label={`${t('pill.label')}: ${text}`}>
      <svg viewBox="0 0 20 20" aria-hidden="true">
        {state === 'none' && <path d="m4 10 4 4 8-9" fill="none" stroke="currentColor" strokeWidth="2.5" />}
        {state === 'waiting' && <path d="M10 16V4m-5 5 5-5 5 5" fill="none" stroke="currentColor" strokeWidth="2.5" />}
        {state === 'refused' && <path d="M10 3v9m0 3v2.500" fill="none" stroke="currentColor" strokeWidth="3" />}
      </svg>
      {text}
    </Link>
  )
}

/** What went wrong, and a way on. */
export function LiftTrouble({ error, sentence, retry }: { error: Error | null; sentence?: string; retry: () => void }) {
  const t = useLiftWords()
  return (
    <div className="lift-page stack" role="alert">
      <p>
        <strong>{sentence ?? t('frame.failed')}</strong>
      </p>
      {sentence === undefined && error !== null && <p>{error.message}</p>}
      <p className="chips">
        <button type="button" className="button button-main" onClick={retry}>
          {t('frame.tryAgain')}
        </button>
      </p>
    </div>
  )
}
