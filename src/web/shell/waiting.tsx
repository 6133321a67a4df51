import { Link } from 'react-router'
import { ServiceProblem } from '../api/problem.js'

/** While data are on their way. */
export function Waiting({ what }: { what: string }) {
  return (
    <p className="waiting" role="status">
      Fetching {what} …
    </p>
  )
}

/** What went wrong, in the service's own sentence, and a way on. */
export function Trouble({ error, retry }: { error: unknown; retry?: () => unknown }) {
  const missing = error instanceof ServiceProblem && error.status === 404
  return (
    <div className="panel stack" role="alert">
      <h2>{missing ? 'Not in your fleet' : 'That did not work'}</h2>
      <p>{error instanceof Error ? error.message : 'Something unexpected happened.'}</p>
      <p className="chips">
        {retry && !missing && (
          <button type="button" className="button button-main" onClick={() => retry()}>
            Try again
          </button>
        )}
        <Link className="button" to="/">
          To the fleet
        </Link>
      </p>
    </div>
  )
}
