import encodeQr from 'qr'
import { useState } from 'react'
import { Link } from 'react-router'
import type { BoatView } from '../../../contract/boats.js'
import { useBerths, useYourBoats } from '../../api/boats.js'
import { useMe } from '../../api/session.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { liftPath } from '../lift/lift-paths.js'
import { ChoiceField } from './fields.js'
import { dotsPath, sheetsOf } from './label-grid.js'
import { useSetUpWords } from './set-up-words.js'
import './labels.css'

/** QR labels of the boats on sheets of A4; each opens the boat's page at the lift. */
export default function LabelsPage() {
  const t = useSetUpWords()
  const boats = useYourBoats()
  const berths = useBerths()
  const me = useMe()
  const [pontoon, setPontoon] = useState('')
  if (boats.isPending || me.isPending) return <Waiting />
  if (boats.isError) return <Trouble error={boats.error} retry={boats.refetch} />
  const pontoonOf = new Map(berths.data?.map((berth) => [berth.name, berth.pontoon]))
  const pontoons = [...new Set(berths.data?.flatMap((berth) => berth.pontoon ?? []))].toSorted()
  const shown = boats.data.filter(
    ({ currentBerth }) => pontoon === '' || (currentBerth !== null && pontoonOf.get(currentBerth) === pontoon),
  )
  const sheets = sheetsOf(shown)
  return (
    <div className="page labels">
      <title>{`${t('labels.title')} · Anode Ledger`}</title>
      <header className="labels-head stack">
        <div>
          <Link to="/set-up/fleet" className="back">
            ‹ {t('labels.back')}
          </Link>
          <h1>{t('labels.title')}</h1>
          <p>{t('labels.text')}</p>
        </div>
        <ChoiceField
          label={t('labels.pontoon')}
          none={t('labels.all')}
          value={pontoon}
          choices={pontoons.map((name) => [name, name] as const)}
          onChange={setPontoon}
        />
        <p role="status">
          {shown.length === 0
            ? t('labels.none')
            : `${t('labels.count', { count: shown.length, sheets: sheets.length })}. ${t('labels.hint')}`}
        </p>
        <button
          type="button"
          className="button button-main"
          disabled={shown.length === 0}
          onClick={() => window.print()}
        >
          {t('labels.print')}
        </button>
      </header>
      {sheets.map((sheet) => (
        <ol key={sheet[0]?.id} className="label-sheet">
          {sheet.map((boat) => (
            <Label key={boat.id} boat={boat} publicUrl={me.data?.publicUrl ?? location.origin} />
          ))}
        </ol>
      ))}
    </div>
  )
}

function Label({ boat, publicUrl }: { boat: BoatView; publicUrl: string }) {
  const t = useSetUpWords()
  // Medium: 15 % of the dots may be scratched or dirty (ISO/IEC 18004); 4 dots of quiet around, as it asks.
  const dots = encodeQr(`${publicUrl.replace(/\/$/, '')}${liftPath(boat)}`, 'raw', { ecc: 'medium', border: 4 })
  return (
    <li className="label-one">
      <svg viewBox={`0 0 ${dots.length} ${dots.length}`} role="img" aria-label={t('labels.qr', { boat: boat.name })}>
        <rect width={dots.length} height={dots.length} fill="#fff" />
        <path d={dotsPath(dots)} fill="#000" shapeRendering="crispEdges" />
      </svg>
      <div>
        <strong>
          <bdi>{boat.name}</bdi>
        </strong>
        {boat.currentBerth !== null && <span>{boat.currentBerth}</span>}
      </div>
    </li>
  )
}
