import type { StatusView } from '../../../contract/status.js'
import { sayCount, sayMoment, useStatusWords } from './status-words.js'

type Queues = Pick<StatusView, 'jobs' | 'letters' | 'webhooks'>

/** What waits, what is being done and what was given up, a row for each kind of work. */
export function QueuePanel({ jobs, letters, webhooks }: Queues) {
  const t = useStatusWords()
  const rows = [
    ...jobs.map((job) => ({ ...job, name: job.kind === 'refit' ? t('queue.refit') : job.kind })),
    { ...letters, working: null, name: t('queue.letters') },
    { ...webhooks, working: null, name: t('queue.webhooks') },
  ]
  const isQuiet = rows.every(({ waiting, working, failed }) => waiting + (working ?? 0) + failed === 0)
  return (
    <section className="panel stack" aria-labelledby="queue">
      <h2 id="queue">{t('queue.heading')}</h2>
      {isQuiet && <p className="soft">{t('queue.quiet')}</p>}
      <table className="status-queue">
        <thead>
          <tr>
            <th scope="col">
              <span className="unseen">{t('queue.work')}</span>
            </th>
            <th scope="col">{t('queue.waiting')}</th>
            <th scope="col">{t('queue.working')}</th>
            <th scope="col">{t('queue.failed')}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, waiting, working, failed, oldestWaitingSince }) => (
            <tr key={name}>
              <th scope="row">
                {name}
                {oldestWaitingSince !== null && (
                  <small>{t('queue.since', { when: sayMoment(oldestWaitingSince) })}</small>
                )}
              </th>
              <td>{sayCount(waiting)}</td>
              <td>{working === null ? '–' : sayCount(working)}</td>
              <td>{failed === 0 ? '0' : <strong className="status-bad">{sayCount(failed)}</strong>}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
