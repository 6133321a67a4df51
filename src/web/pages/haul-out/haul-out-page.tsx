import { useState } from 'react'
import { Link, useParams } from 'react-router'
import { useAnodesInPlace, useBoat } from '../../api/boats.js'
import { useDepletion } from '../../api/depletion.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { HaulOutForm } from './haul-out-form.js'
import { t } from './haul-out-words.js'
import type { Logged } from './log-haul-out.js'
import { Summary } from './summary.js'
import { useDraft } from './use-draft.js'
import '../boat/boat.css'
import './haul-out.css'

/** Logs a haul-out of one boat. */
export default function HaulOutPage() {
  useAreas('haul-out', 'boat', 'fleet', 'words')
  const { boat = '' } = useParams()
  const [logged, setLogged] = useState<Logged>()
  return (
    <div className="page page-form">
      <title>{`${t('title', { boat })} · Anode Ledger`}</title>
      {logged ? <Summary logged={logged} /> : <Logging boat={boat} onLogged={setLogged} />}
    </div>
  )
}

function Logging({ boat: name, onLogged }: { boat: string; onLogged: (logged: Logged) => void }) {
  const drafting = useDraft(name)
  const boat = useBoat(name)
  const anodes = useAnodesInPlace(name, drafting.draft.hauledOn)
  // The form works without what is expected today; it is only shown once it is there.
  const depletion = useDepletion(name)
  if (boat.isError) return <Trouble error={boat.error} retry={boat.refetch} />
  if (boat.isPending || anodes.isPending) return <Waiting />
  const forecasts = new Map(
    depletion.data?.anodes.flatMap(({ anode, forecast }) => (forecast ? [[anode, forecast] as const] : [])),
  )
  return (
    <>
      <header className="stack-tight">
        <Link className="back" to={`/boats/${encodeURIComponent(name)}`}>
          ‹ {name}
        </Link>
        <h1>{t('heading')}</h1>
        <p className="soft">{t('lead')}</p>
        {drafting.found && (
          <p className="draft-found">
            {t('found')}
            <button type="button" className="button button-plain" onClick={drafting.discard}>
              {t('afresh')}
            </button>
          </p>
        )}
      </header>
      {!drafting.isKept && (
        <p className="caution" role="alert">
          {t('unkept')}
        </p>
      )}
      <HaulOutForm
        boat={boat.data}
        anodes={anodes.data ?? []}
        forecasts={forecasts}
        drafting={drafting}
        onLogged={onLogged}
      />
      {anodes.isError && <Trouble error={anodes.error} retry={anodes.refetch} />}
    </>
  )
}
