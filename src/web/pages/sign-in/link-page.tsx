import { Link, useSearchParams } from 'react-router'
import { useFollowLink } from '../../api/session.js'

/** Where the link of a letter leads. Nothing is spent by looking at it: mail programs open links before people do. */
export default function LinkPage() {
  const [query] = useSearchParams()
  const token = query.get('token')
  return (
    <div className="page page-narrow">
      <title>Sign in · Anode Ledger</title>
      <h1>Sign in</h1>
      {token === null ? (
        <NoLink reason="The link is not whole. Open it exactly as it stands in the letter." />
      ) : (
        <Follow token={token} page={query.get('callbackURL') ?? '/'} />
      )}
    </div>
  )
}

function Follow({ token, page }: { token: string; page: string }) {
  const follow = useFollowLink()
  if (follow.isError) return <NoLink reason={follow.error.message} />
  return (
    <section className="panel stack">
      <p>You asked for a link to sign in on this device. It works once.</p>
      <button
        type="button"
        className="button button-main"
        disabled={follow.isPending || follow.isSuccess}
        onClick={() => follow.mutate({ token, callbackURL: page })}
      >
        Sign in
      </button>
    </section>
  )
}

function NoLink({ reason }: { reason: string }) {
  return (
    <section className="panel stack">
      <p role="alert">{reason}</p>
      <Link className="button" to="/sign-in">
        Ask for a new link
      </Link>
    </section>
  )
}
