import type { PasskeyView } from '../../../contract/passkeys.js'
import { hasPasskeys, NotGiven, useAddPasskey, usePasskeys, useRemovePasskey } from '../../api/passkeys.js'
import { Trouble } from '../../shell/waiting.js'
import { sayDay } from './settings-days.js'
import { useSettingsWords } from './settings-words.js'

/** The keys that a person's devices keep for them: one more on this device, and the way to be rid of each. */
export function PasskeysPanel() {
  const t = useSettingsWords()
  const passkeys = usePasskeys()
  const addition = useAddPasskey()
  const removal = useRemovePasskey()
  if (passkeys.isError) return <Trouble error={passkeys.error} retry={passkeys.refetch} />
  const failed = addition.error ?? removal.error
  return (
    <section className="panel stack">
      <div>
        <h2>{t('passkeys.heading')}</h2>
        <p className="soft">{t('passkeys.hint')}</p>
      </div>
      {passkeys.isPending && (
        <p className="waiting" role="status">
          {t('passkeys.loading')}
        </p>
      )}
      {passkeys.data?.length === 0 && <p className="soft">{t('passkeys.none')}</p>}
      <ul className="settings-list">
        {passkeys.data?.map((passkey) => (
          <Passkey key={passkey.id} passkey={passkey} remove={() => removal.mutate(passkey.id)} />
        ))}
      </ul>
      {failed && (
        <p className="field-wrong" role="alert">
          {failed instanceof NotGiven
            ? t(failed.reason === 'InvalidStateError' ? 'passkeys.there' : 'passkeys.cancelled')
            : failed.message}
        </p>
      )}
      {hasPasskeys() ? (
        <p className="chips">
          <button type="button" className="button" disabled={addition.isPending} onClick={() => addition.mutate()}>
            {t('passkeys.add')}
          </button>
        </p>
      ) : (
        <p className="soft">{t('passkeys.cannot')}</p>
      )}
    </section>
  )
}

function Passkey({ passkey, remove }: { passkey: PasskeyView; remove: () => void }) {
  const t = useSettingsWords()
  const { browser, system, createdAt, lastUsedAt } = passkey
  const device = t('devices.device', {
    browser: browser ?? t('devices.unknownBrowser'),
    system: system ?? t('devices.unknownSystem'),
  })
  return (
    <li>
      <div>
        <strong>{device}</strong>
        <p className="soft small">
          {t('passkeys.added', { day: sayDay(createdAt) })},{' '}
          {lastUsedAt === null ? t('passkeys.unused') : t('passkeys.used', { day: sayDay(lastUsedAt) })}
        </p>
      </div>
      <button type="button" className="button" aria-label={t('passkeys.removeNamed', { device })} onClick={remove}>
        {t('passkeys.remove')}
      </button>
    </li>
  )
}
