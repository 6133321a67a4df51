import { Link, useSearchParams } from 'react-router'
import { useFollowLink } from '../../api/session.js'
import { t } from '../../shell/shell-words.js'

/** Where the link of a letter leads. Nothing is spent by looking at it: mail programs open links before people do. */
export default function LinkPage() {
  const [query] = useSearchParams()
  const token = query.get('token')
  return (
    <div className="page page-narrow">
      <title>{`${t('signIn.title')} · Anode Ledger`}</title>
      <h1>{t('signIn.title')}</h1>
      {token === null ? (
        <NoLink reason={t('signIn.notWhole')} />
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
      <p>{t('signIn.asked')}</p>
      <button
        type="button"
        className="button button-main"
        disabled={follow.isPending || follow.isSuccess}
        onClick={() => follow.mutate({ token, callbackURL: page })}
      >
        {t('signIn.title')}
      </button>
    </section>
  )
}

function NoLink({ reason }: { reason: string }) {
  return (
    <section className="panel stack">
      <p role="alert">{reason}</p>
      <Link className="button" to="/sign-in">
        {t('signIn.anew')}
      </Link>
    </section>
  )
}
