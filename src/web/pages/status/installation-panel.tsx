import type { ReactNode } from 'react'
import type { StatusView } from '../../../contract/status.js'
import { sayBytes, sayCount, sayMoment, useStatusWords } from './status-words.js'

type Installation = StatusView['installation']

/** What the service runs on, and whether that answers. */
export function InstallationPanel({ installation }: { installation: Installation }) {
  const t = useStatusWords()
  const { version, node, startedAt, database, photoStore, mailServer, away, lastBackupAt } = installation
  const facts: readonly [name: string, fact: ReactNode][] = [
    [t('installation.version'), `${version} (Node ${node})`],
    [t('installation.startedAt'), sayMoment(startedAt)],
    [t('installation.database'), t(`installation.${database.kind}`, { version: database.version })],
    [t('installation.size'), database.bytes === null ? t('installation.sizeOfAll') : sayBytes(database.bytes)],
    [
      t('installation.migrations'),
      t('installation.upTo', { migrations: sayCount(database.migrations), newest: database.newestMigration }),
    ],
    [t('installation.photos'), t(`installation.${photoStore}`)],
    [t('installation.letters'), t(mailServer ? 'installation.mailServer' : 'installation.printed')],
    [t('installation.backup'), lastBackupAt === null ? t('installation.noBackup') : sayMoment(lastBackupAt)],
  ]
  return (
    <section className="panel stack" aria-labelledby="installation">
      <h2 id="installation">{t('installation.heading')}</h2>
      {away.length > 0 && <Away parts={away} />}
      <dl className="status-facts">
        {facts.map(([name, fact]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{fact}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}

/** The parts as the service names them. */
function Away({ parts }: { parts: Installation['away'] }) {
  const t = useStatusWords()
  const names: Readonly<Record<string, string>> = {
    'the database': t('installation.awayDatabase'),
    'the photo store': t('installation.awayPhotos'),
  }
  return (
    <p className="status-bad" role="alert">
      {parts.map((part) => names[part] ?? part).join(' ')}
    </p>
  )
}
