import { Link, useSearchParams } from 'react-router'
import { type PlannedPontoon, usePontoonPlan } from '../../api/pontoons.js'
import { useMe } from '../../api/session.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { sayDay } from '../../wording/days.js'
import { Segments } from '../haul-out/choices.js'
import { BerthTable } from './berth-table.js'
import { EffectLegend } from './effect-legend.js'
import { PontoonPlan } from './pontoon-plan.js'
import { t } from './pontoon-words.js'
import './pontoons.css'

/** The harbour from above: what each berth does to anodes, and where something was found. */
export default function PontoonsPage() {
  useAreas('pontoons', 'findings', 'words')
  const plan = usePontoonPlan()
  const me = useMe()
  const mayDraw = me.data?.permissions.includes('pontoons:draw') ?? false
  return (
    <div className="page pontoons">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <header className="pontoons-head">
        <div>
          <h1>{t('title')}</h1>
          <p className="soft">
            {t('lead')} {plan.data?.asOf && t('asOf', { day: sayDay(plan.data.asOf) })}
          </p>
        </div>
        <p className="chips">
          {mayDraw && (
            <Link className="button" to="/set-up/fleet?way=drawing">
              {t('draw')}
            </Link>
          )}
          <Link className="button" to="/findings">
            {t('findings')}
          </Link>
        </p>
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
        <h2>{t('none.title')}</h2>
        <p>{t('none.text')}</p>
      </div>
    )
  }
  return (
    <>
      <div className="pontoons-view">
        <Segments
          label={t('shownAs')}
          value={isTable ? 'table' : 'plan'}
          choices={[
            ['plan', t('view.plan')],
            ['table', t('view.table')],
          ]}
          onChange={(view) => setQuery(view === 'table' ? { view } : {}, { replace: true })}
        />
        <EffectLegend />
      </div>
      {isTable ? <BerthTable pontoons={known} /> : <PontoonPlan pontoons={known} />}
    </>
  )
}
