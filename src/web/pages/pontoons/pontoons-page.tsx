import { Link, useSearchParams } from 'react-router'
import { type PlannedPontoon, usePontoonPlan } from '../../api/pontoons.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { sayDay } from '../../wording/days.js'
import { Segments } from '../haul-out/choices.js'
import { BerthTable } from './berth-table.js'
import { EffectLegend } from './effect-legend.js'
import { PontoonPlan } from './pontoon-plan.js'
import './pontoons.css'

const VIEWS = [
  ['plan', 'Plan'],
  ['table', 'Table'],
] as const

/** The harbour from above: what each berth does to anodes, and where something was found. */
export default function PontoonsPage() {
  const plan = usePontoonPlan()
  return (
    <div className="page pontoons">
      <title>Pontoons · Anode Ledger</title>
      <header className="pontoons-head">
        <div>
          <h1>Pontoons</h1>
          <p className="soft">
            How much faster or slower anodes waste at each berth, all else alike
            {plan.data?.asOf && `, as of ${sayDay(plan.data.asOf)}`}.
          </p>
        </div>
        <Link className="button" to="/findings">
          Findings
        </Link>
      </header>
      {plan.isPending && <Waiting />}
      {plan.isError && <Trouble error={plan.error} retry={plan.refetch} />}
      {plan.data && <PlanOrTable pontoons={plan.data.pontoons} />}
    </div>
  )
}

function PlanOrTable({ pontoons }: { pontoons: readonly PlannedPontoon[] }) {
  const [query, setQuery] = useSearchParams()
  const isTable = query.get('view') === 'table'
  const known = pontoons.filter(({ berths }) => berths.length > 0)
  if (known.length === 0) {
    return (
      <div className="panel stack">
        <h2>No berth yet</h2>
        <p>Berths appear here once they are loaded, with their pontoons, from berths.csv or by POST /v1/berths.</p>
      </div>
    )
  }
  return (
    <>
      <div className="pontoons-view">
        <Segments
          label="Shown as"
          value={isTable ? 'table' : 'plan'}
          choices={VIEWS}
          onChange={(view) => setQuery(view === 'table' ? { view } : {}, { replace: true })}
        />
        <EffectLegend />
      </div>
      {isTable ? <BerthTable pontoons={known} /> : <PontoonPlan pontoons={known} />}
    </>
  )
}
