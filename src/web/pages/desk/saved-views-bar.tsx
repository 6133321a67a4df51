import { useEffect, useId, useRef, useState } from 'react'
import type { SavedView } from '../../../contract/desk-views.js'
import { useSavedViews, useViewChanges } from '../../api/desk.js'
import { useDeskWords } from './desk-words.js'
import type { DeskQuery } from './use-desk-query.js'

/** Opens the view that is to open first, where the address asks for nothing else. */
export function useDefaultView(desk: DeskQuery): void {
  const { data } = useSavedViews()
  const isAsked = useRef(desk.query.size > 0)
  useEffect(() => {
    if (isAsked.current || data === undefined) return
    isAsked.current = true
    const first = data.find(({ isDefault }) => isDefault)
    if (first !== undefined) desk.open(first.query)
  }, [data, desk])
}

/** A person's own ways to look at the fleet: one press each, and a way to keep what is shown now. */
export function SavedViewsBar({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  const { data: views = [] } = useSavedViews()
  const shown = desk.query.toString()
  return (
    <details className="desk-views fold">
      <summary>
        {t('views.title')}
        {views.length > 0 && ` (${views.length})`}
      </summary>
      <div className="stack">
        {views.length === 0 && <p className="soft small">{t('views.none')}</p>}
        <ul className="desk-view-list">
          {views.map((view) => (
            <li key={view.id}>
              <button
                type="button"
                className="button"
                aria-pressed={view.query === shown}
                onClick={() => desk.open(view.query)}
              >
                {view.query === shown && '✓ '}
                {view.name}
                {view.isDefault && <small> · {t('views.isFirst')}</small>}
              </button>
              <ViewActions view={view} shown={shown} />
            </li>
          ))}
        </ul>
        <SaveForm shown={shown} />
      </div>
    </details>
  )
}

function ViewActions({ view, shown }: { view: SavedView; shown: string }) {
  const t = useDeskWords()
  const { change, forget } = useViewChanges()
  const [name, setName] = useState(view.name)
  const id = useId()
  const problem = change.error ?? forget.error
  return (
    <details className="desk-view-actions fold">
      <summary aria-label={t('views.actions', { name: view.name })} />
      <div className="panel stack-tight">
        <form
          className="desk-inline"
          onSubmit={(event) => {
            event.preventDefault()
            change.mutate({ view, change: { name } })
          }}
        >
          <div className="field">
            <label htmlFor={id}>{t('views.name')}</label>
            <input id={id} value={name} maxLength={80} required onChange={(event) => setName(event.target.value)} />
          </div>
          <button type="submit" className="button">
            {t('views.rename')}
          </button>
        </form>
        <p className="chips">
          <button type="button" className="button" onClick={() => change.mutate({ view, change: { query: shown } })}>
            {t('views.renew')}
          </button>
          <button
            type="button"
            className="button"
            onClick={() => change.mutate({ view, change: { isDefault: !view.isDefault } })}
          >
            {view.isDefault ? t('views.notFirst') : t('views.first')}
          </button>
          <button type="button" className="button" onClick={() => forget.mutate(view)}>
            {t('views.delete')}
          </button>
        </p>
        {problem && (
          <p className="field-wrong" role="alert">
            {problem.message}
          </p>
        )}
      </div>
    </details>
  )
}

function SaveForm({ shown }: { shown: string }) {
  const t = useDeskWords()
  const { save } = useViewChanges()
  const [name, setName] = useState('')
  const id = useId()
  return (
    <form
      className="desk-inline"
      onSubmit={(event) => {
        event.preventDefault()
        save.mutate({ name, query: shown, isDefault: false }, { onSuccess: () => setName('') })
      }}
    >
      <div className="field">
        <label htmlFor={id}>{t('views.name')}</label>
        <input id={id} value={name} maxLength={80} required onChange={(event) => setName(event.target.value)} />
        {save.error && (
          <span className="field-wrong" role="alert">
            {save.error.message}
          </span>
        )}
      </div>
      <button type="submit" className="button" disabled={save.isPending}>
        {t('views.save')}
      </button>
    </form>
  )
}
