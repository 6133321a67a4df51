import { type ComponentType, type ReactNode, type RefObject, useEffect, useId, useRef, useState } from 'react'
import { NavLink, useLocation } from 'react-router'
import type { Role } from '../../contract/vocabulary.js'
import type english from '../../messages/en/shell.json'
import { OpenCount } from '../pages/findings/open-count.js'
import { t } from './shell-words.js'
import './menu.css'

interface PageLink {
  readonly to: string
  readonly name: Exclude<keyof typeof english.pages, 'label'>
  readonly isForOwners: boolean
  /** What stands behind its text. */
  readonly Mark?: ComponentType
}

const PAGES: readonly PageLink[] = [
  { to: '/lift', name: 'lift', isForOwners: false },
  { to: '/desk', name: 'desk', isForOwners: false },
  { to: '/findings', name: 'findings', isForOwners: true, Mark: OpenCount },
  { to: '/pontoons', name: 'pontoons', isForOwners: false },
  { to: '/model', name: 'model', isForOwners: false },
  { to: '/sizing', name: 'sizing', isForOwners: true },
  { to: '/galvanic', name: 'galvanic', isForOwners: true },
  { to: '/reference', name: 'reference', isForOwners: true },
]

/** The pages beside the fleet, and who is looking: in a row where there is room, else behind one button. */
export function Menu({ role, children }: { role: Role; children: ReactNode }) {
  const place = useRef<HTMLDivElement>(null)
  const [isOpen, setIsOpen] = useState(false)
  const close = () => setIsOpen(false)
  const { pathname } = useLocation()
  const panel = useId()
  // biome-ignore lint/correctness/useExhaustiveDependencies: another page closes the menu, whatever led there
  useEffect(close, [pathname])
  useClosing(place, isOpen, close)
  const pages = PAGES.filter(({ isForOwners }) => isForOwners || role !== 'owner')
  return (
    <div className="menu" ref={place} data-open={isOpen}>
      <button
        type="button"
        className="button button-plain menu-button"
        aria-expanded={isOpen}
        aria-controls={panel}
        onClick={() => setIsOpen((before) => !before)}
      >
        <Bars />
        {t('menu')}
      </button>
      <div id={panel} className="menu-panel">
        <nav aria-label={t('pages.label')}>
          <ul className="menu-pages">
            {pages.map(({ to, name, Mark }) => (
              <li key={to}>
                <NavLink className="button button-plain" to={to} onClick={close}>
                  {t(`pages.${name}`)}
                  {Mark && <Mark />}
                </NavLink>
              </li>
            ))}
          </ul>
        </nav>
        <div className="menu-who">{children}</div>
      </div>
    </div>
  )
}

/** Escape, a press elsewhere and Tab past the end close what is open; Escape gives the focus back to the button. */
function useClosing(place: RefObject<HTMLElement | null>, isOpen: boolean, close: () => void) {
  useEffect(() => {
    if (!isOpen) return
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return
      close()
      place.current?.querySelector('button')?.focus()
    }
    const onElsewhere = (event: Event) => {
      if (event.target instanceof Node && !place.current?.contains(event.target)) close()
    }
    document.addEventListener('keydown', onKey)
    document.addEventListener('pointerdown', onElsewhere)
    document.addEventListener('focusin', onElsewhere)
    return () => {
      document.removeEventListener('keydown', onKey)
      document.removeEventListener('pointerdown', onElsewhere)
      document.removeEventListener('focusin', onElsewhere)
    }
  })
}

function Bars() {
  return (
    <svg viewBox="0 0 18 14" width="18" height="14" aria-hidden="true">
      <path d="M0 1h18M0 7h18M0 13h18" stroke="currentColor" strokeWidth="2" />
    </svg>
  )
}
