import { Link } from 'react-router'
import { ServiceProblem } from '../api/problem.js'
import { sayAtStart } from '../i18n/start-words.js'

/** While data are on their way. */
export function Waiting() {
  return (
    <p className="waiting" role="status">
      {sayAtStart('loading')}
    </p>
  )
}

/** What went wrong, in the service's own sentence, and a way on. */
export function Trouble({ error, retry }: { error: unknown; retry?: () => unknown }) {
  const missing = error instanceof ServiceProblem && error.status === 404
  return (
    <div className="panel stack" role="alert">
      <h2>{sayAtStart(missing ? 'missing' : 'trouble')}</h2>
      <p>{error instanceof Error ? error.message : sayAtStart('unexpected')}</p>
      <p className="chips">
        {retry && !missing && (
          <button type="button" className="button button-main" onClick={() => retry()}>
            {sayAtStart('again')}
          </button>
        )}
        <Link className="button" to="/">
          {sayAtStart('toFleet')}
        </Link>
      </p>
    </div>
  )
}
