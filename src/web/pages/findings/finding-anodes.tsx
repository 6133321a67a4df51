import { lazy, Suspense, useMemo, useState } from 'react'
import { Link } from 'react-router'
import { plotData } from '../../../presentation/depletion-drawing.js'
import type { OccupiedPosition } from '../../../presentation/occupied-positions.js'
import { useDepletion } from '../../api/depletion.js'
import type { Finding } from '../../api/findings.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { PlotKey } from '../boat/plot-key.js'
import { anodesByBoat, positionsOf, sayAnodesAt } from './anodes-of-finding.js'
import { saySince } from './finding-sentences.js'
import { t } from './findings-words.js'

const DepletionPlot = lazy(() => import('../boat/depletion-plot.js'))

/** Drawn at once; more are a touch away. */
const SHOWN_AT_FIRST = 2

/** The depletion of the anodes that share in it, with the time when it began. */
export function FindingAnodes({ finding }: { finding: Finding }) {
  const boats = [...anodesByBoat(finding.anodes)]
  if (boats.length === 0) return null
  return (
    <section className="panel stack where-it-shows" aria-labelledby="finding-anodes">
      <h2 id="finding-anodes">{t('shows.title')}</h2>
      {boats.map(([boat, anodes], index) => (
        <BoatAnodes key={boat} boat={boat} anodes={anodes} finding={finding} isOpen={index === 0} />
      ))}
    </section>
  )
}

interface BoatAnodesProps {
  boat: string
  anodes: readonly string[]
  finding: Finding
  isOpen: boolean
}

/** Fetched once it is looked at: a pontoon's finding may show in a dozen boats. */
function BoatAnodes({ boat, anodes, finding, isOpen }: BoatAnodesProps) {
  const [wasOpened, setOpened] = useState(isOpen)
  return (
    <details className="fold" open={isOpen} onToggle={(event) => event.currentTarget.open && setOpened(true)}>
      <summary>{t('shows.boat', { boat, count: anodes.length })}</summary>
      {wasOpened && <Plots boat={boat} anodes={anodes} finding={finding} />}
    </details>
  )
}

function Plots({ boat, anodes, finding }: Omit<BoatAnodesProps, 'isOpen'>) {
  const depletion = useDepletion(boat)
  const [isWhole, setWhole] = useState(false)
  if (depletion.isPending) return <Waiting />
  if (depletion.isError) return <Trouble error={depletion.error} retry={depletion.refetch} />
  const positions = positionsOf(depletion.data, anodes)
  const shown = isWhole ? positions : positions.slice(0, SHOWN_AT_FIRST)
  return (
    <div className="stack">
      <p>
        <Link className="back" to={`/boats/${encodeURIComponent(boat)}`}>
          {t('shows.toBoat')}
        </Link>
      </p>
      <div className="finding-plots">
        {shown.map((position) => (
          <Plot
            key={position.current.anode}
            position={position}
            names={anodes}
            asOf={depletion.data.asOf}
            finding={finding}
          />
        ))}
      </div>
      <PlotKey hasPredecessors={shown.some(({ before }) => before.length > 0)} hasOnset={finding.onset !== null} />
      {positions.length > shown.length && (
        <p>
          <button type="button" className="button" onClick={() => setWhole(true)}>
            {t('shows.others', { number: positions.length - shown.length })}
          </button>
        </p>
      )}
    </div>
  )
}

interface PlotProps {
  position: OccupiedPosition
  /** Of the boat's anodes that share in the finding. */
  names: readonly string[]
  asOf: string
  finding: Finding
}

function Plot({ position: { current, before }, names, asOf, finding }: PlotProps) {
  const data = useMemo(() => plotData(current, before, asOf, finding.onset), [current, before, asOf, finding.onset])
  return (
    <div className="stack-tight">
      <h3 className="finding-anode">{sayAnodesAt({ current, before }, names)}</h3>
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <DepletionPlot data={data} label={t('shows.label', { anode: current.anode, when: saySince(finding) })} />
      </Suspense>
    </div>
  )
}
