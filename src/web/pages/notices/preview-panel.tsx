import { usePreview, useTrialLetter } from '../../api/notices.js'
import { Trouble } from '../../shell/waiting.js'
import { sayDay } from '../../wording/days.js'
import { sayWhy, useNoticeWords } from './notice-words.js'

const DAYS = 90
/** Of a letter about many boats. */
const MOST_REASONS = 6

/** What would be sent, before anything is. */
export function PreviewPanel() {
  const t = useNoticeWords()
  const preview = usePreview(DAYS)
  const items = preview.data?.items ?? []
  const without = preview.data?.withoutAddress ?? []
  return (
    <section className="panel stack">
      <div>
        <h2>{t('preview.heading')}</h2>
        <p className="soft">{t('preview.hint')}</p>
      </div>
      {preview.isError && <Trouble error={preview.error} retry={preview.refetch} />}
      {preview.isPending && (
        <p className="waiting" role="status">
          {t('loading')}
        </p>
      )}
      {preview.isSuccess && (
        <>
          <p>{items.length === 0 ? t('preview.none') : t('preview.count', { count: items.length })}</p>
          {without.length > 0 && <p className="field-wrong">{t('preview.without', { boats: without.join(', ') })}</p>}
          <ul className="notice-list">
            {items.map(({ on, to, boats, why, kind }) => (
              <li key={`${on} ${to} ${boats[0]}`} className="notice-row">
                <span className="notice-day">{sayDay(on)}</span>
                <span>
                  <strong>
                    <bdi>{kind === 'boat' ? boats[0] : t('preview.many', { count: boats.length })}</bdi>
                  </strong>
                  <br />
                  <span className="soft notice-address">{to}</span>
                </span>
                <div>
                  <ul className="notice-why">
                    {why.slice(0, MOST_REASONS).map((each) => (
                      <li key={`${each.boat} ${each.anode ?? each.finding}`}>
                        {kind === 'summary' && `${each.boat}: `}
                        {sayWhy(each, t)}
                      </li>
                    ))}
                    {why.length > MOST_REASONS && <li>…</li>}
                  </ul>
                  {kind === 'boat' && <Trial boat={boats[0]!} />}
                </div>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  )
}

/** The letter as its reader will have it, in one's own mailbox. */
function Trial({ boat }: { boat: string }) {
  const t = useNoticeWords()
  const trial = useTrialLetter()
  return (
    <div className="notice-trial">
      <button
        type="button"
        className="button"
        disabled={trial.isPending}
        aria-label={`${t('trial.send')}: ${boat}`}
        onClick={() => trial.mutate({ boat })}
      >
        {trial.isPending ? t('trial.pending') : t('trial.send')}
      </button>
      {trial.isSuccess && trial.data.failure === null && <p role="status">{t('trial.sent', { to: trial.data.to })}</p>}
      {trial.isSuccess && trial.data.failure !== null && (
        <p className="field-wrong" role="alert">
          {t('trial.failed', { said: trial.data.failure })}
        </p>
      )}
      {trial.isError && (
        <p className="field-wrong" role="alert">
          {trial.error.message}
        </p>
      )}
    </div>
  )
}
