import type { ReactNode } from 'react'
import { useDeskWords } from './desk-words.js'
import type { DeskQuery } from './use-desk-query.js'

interface ListFrameProps {
  desk: DeskQuery
  shown: number
  /** Of the fleet; where it is not known, only those shown are told. */
  boats?: number | undefined
  /** Where the list is saved from. */
  file: string
  /** What changes how the list is shown. */
  controls?: ReactNode
  children: ReactNode
}

/** How many boats match, the list as a file, and a way on where none does. */
export function ListFrame({ desk, shown, boats, file, controls, children }: ListFrameProps) {
  const t = useDeskWords()
  const all = boats === undefined || boats === shown
  return (
    <>
      <div className="desk-sum">
        {controls}
        <p className="soft small" role="status">
          {all ? t('boats', { count: shown }) : t('some', { shown, boats: t('boats', { count: boats }) })}
        </p>
        <a className="button button-plain" href={file} download>
          {t('csv')}
        </a>
      </div>
      {shown === 0 ? (
        <p className="desk-none">
          {t('filter.none')}{' '}
          <button type="button" className="button" onClick={desk.clearFilters}>
            {t('filter.clear')}
          </button>
        </p>
      ) : (
        children
      )}
    </>
  )
}
