import { useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { PhoneFull } from '../../offline/phone-full.js'
import { sendOutbox } from '../../offline/send-outbox.js'
import { useWho } from '../../offline/use-held.js'
import { dropDraft } from '../haul-out/draft.js'
import type { AtLift } from './boat-at-lift-page.js'
import { liftPath } from './lift-paths.js'
import { useLiftWords } from './lift-words.js'
import { queueHaulOut } from './queue-haul-out.js'
import type { ReadOut } from './read-out.js'
import { sendAtOnce } from './send-at-once.js'

type State =
  | { readonly is: 'ready' | 'busy' | 'full' | 'fix' }
  | { readonly is: 'unsent'; readonly why: string }
  | { readonly is: 'sent'; readonly photosRefused: number }

/** One tap keeps what was entered and sends it; a phone without room can still send it. */
export function LogButton({ at, readOut }: { at: AtLift; readOut: ReadOut }) {
  const t = useLiftWords()
  const who = useWho().held?.value
  const navigate = useNavigate()
  const [state, setState] = useState<State>({ is: 'ready' })
  const isEmpty = readOut.lines.length === 0
  const isStuck = state.is === 'full' || state.is === 'unsent'

  const forget = async () => {
    at.drafting.finish()
    dropDraft(localStorage, at.boat.name)
    await at.photosChanged()
  }
  const log = async () => {
    if (who === undefined) return
    setState({ is: 'busy' })
    try {
      const id = await queueHaulOut(at, readOut, { organisationId: who.organisation.id, actor: who.actor })
      if (id === null) return setState({ is: 'fix' })
      await forget()
      void sendOutbox()
      await navigate(liftPath(at.boat, 'logged', String(id)), { replace: true })
    } catch (error) {
      setState({ is: 'full' })
      if (!(error instanceof PhoneFull)) console.warn(error)
    }
  }
  const sendNow = async () => {
    setState({ is: 'busy' })
    try {
      const photosRefused = await sendAtOnce(at)
      if (photosRefused === null) return setState({ is: 'fix' })
      await forget()
      setState({ is: 'sent', photosRefused })
    } catch (error) {
      setState({ is: 'unsent', why: error instanceof Error ? error.message : '' })
    }
  }

  if (state.is === 'sent') return <Sent photosRefused={state.photosRefused} />
  return (
    <footer className="lift-foot">
      {(isStuck || state.is === 'fix') && (
        <p className="field-wrong" role="alert">
          <span>{state.is === 'unsent' ? t('summary.sendFailed', { why: state.why }) : t(`summary.${state.is}`)}</span>
        </p>
      )}
      {isStuck && (
        <button type="button" className="button button-main" onClick={() => void sendNow()}>
          {t('summary.sendNow')}
        </button>
      )}
      <button
        type="button"
        className={isStuck ? 'button' : 'button button-main'}
        disabled={state.is === 'busy' || isEmpty}
        onClick={() => void log()}
      >
        {t(state.is === 'busy' ? 'summary.logging' : isStuck ? 'summary.keepAgain' : 'summary.log')}
      </button>
    </footer>
  )
}

function Sent({ photosRefused }: { photosRefused: number }) {
  const t = useLiftWords()
  return (
    <footer className="lift-foot">
      <p role="status">
        {t('logged.sent')} {photosRefused > 0 && t('summary.photosRefused', { count: photosRefused })}
      </p>
      <Link className="button button-main" to="/lift">
        {t('logged.next')}
      </Link>
    </footer>
  )
}
