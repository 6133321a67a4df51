import type { PlannedBerth, PlannedPontoon } from '../../api/pontoons.js'
import { BerthCell } from './berth-cell.js'
import { FindingLinks } from './finding-links.js'
import { planOf, type Spine } from './plan-layout.js'
import { t } from './pontoon-words.js'
import './drawn-spine.css'

/** The pontoons one beneath the other, each a spine with its berths on both sides. */
export function PontoonPlan({ pontoons }: { pontoons: readonly PlannedPontoon[] }) {
  const berths = pontoons.flatMap(({ pontoon, berths: own }) => own.map((berth) => ({ ...berth, pontoon })))
  const { spines, apart } = planOf(berths)
  return (
    <>
      {spines.map((spine) => (
        <SpineView
          key={spine.pontoon}
          spine={spine}
          findings={pontoons.find(({ pontoon }) => pontoon === spine.pontoon)?.findings ?? []}
        />
      ))}
      {apart.length > 0 && (
        <section className="panel stack" aria-labelledby="apart">
          <h2 id="apart">{t('apart')}</h2>
          <div className="berths-apart">
            {apart.map((berth) => (
              <BerthCell key={berth.berth} berth={berth} />
            ))}
          </div>
        </section>
      )}
    </>
  )
}

interface SpineViewProps {
  spine: Spine<PlannedBerth & { readonly pontoon: string | null }>
  findings: PlannedPontoon['findings']
}

function SpineView({ spine: { pontoon, bays, count: berths, isDrawn }, findings }: SpineViewProps) {
  const all = bays.flatMap(({ one, other }) => [one, other]).filter((berth) => berth !== null)
  const taken = all.filter(({ boats }) => boats.length > 0).length
  const waters = [...new Set(all.flatMap(({ water }) => water ?? []))]
  return (
    <section className="panel stack pontoon" aria-label={t('pontoon', { name: pontoon })}>
      <header className="pontoon-head">
        <h2>{pontoon}</h2>
        <p className="soft">
          {[
            t('berths', { count: berths }),
            t('taken', { number: taken }),
            ...waters.map((water) => t(`water.${water}`)),
          ].join(', ')}
        </p>
        <FindingLinks findings={findings} />
      </header>
      {isDrawn && <p className="spine-shore small soft">{t('shore')}</p>}
      <ol className={isDrawn ? 'spine spine-drawn' : 'spine'}>
        {bays.map(({ one, other }) => (
          <li key={one?.berth ?? other?.berth} className="bay">
            {one ? <BerthCell berth={one} /> : <div />}
            <div className="spine-part" aria-hidden="true" />
            {other ? <BerthCell berth={other} /> : <div />}
          </li>
        ))}
      </ol>
    </section>
  )
}
