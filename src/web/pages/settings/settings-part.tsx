import type { ReactNode } from 'react'
import { Link } from 'react-router'
import './settings.css'

interface SettingsPartProps {
  readonly words: { readonly title: string; readonly back: string; readonly notYours: string; readonly about?: string }
  /** Whether the reader has any business here; otherwise they are told so. */
  readonly may: boolean
  readonly children: ReactNode
}

/** A page below the settings, for those who look after the organisation. */
export function SettingsPart({ words: { title, back, notYours, about }, may, children }: SettingsPartProps) {
  return (
    <div className="page settings">
      <title>{`${title} · Anode Ledger`}</title>
      <div>
        <Link to="/settings" className="back">
          ‹ {back}
        </Link>
        <h1>{title}</h1>
        {about !== undefined && <p className="soft">{about}</p>}
      </div>
      {may ? children : <p className="panel">{notYours}</p>}
    </div>
  )
}
