import { ServiceProblem } from '../../api/problem.js'
import { useDeskWords } from './desk-words.js'

interface Asked {
  readonly isPending: boolean
  readonly isError: boolean
  readonly error: unknown
  readonly refetch: () => unknown
}

/** What stands where the answer is not there yet, or did not come; nothing once it is. */
export function DeskState({ of }: { of: Asked }) {
  const t = useDeskWords()
  if (of.isError) {
    return (
      <div className="panel stack" role="alert">
        <h2>{t('state.failed')}</h2>
        <p>{of.error instanceof Error ? of.error.message : ''}</p>
        {of.error instanceof ServiceProblem && of.error.fields.map(({ detail }) => <p key={detail}>{detail}</p>)}
        <p>
          <button type="button" className="button button-main" onClick={() => of.refetch()}>
            {t('state.again')}
          </button>
        </p>
      </div>
    )
  }
  if (of.isPending) {
    return (
      <p className="waiting" role="status">
        {t('state.waiting')}
      </p>
    )
  }
  return null
}
