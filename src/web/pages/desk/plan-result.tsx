import { useState } from 'react'
import { Link } from 'react-router'
import type { LiftPlanAnswer, LiftPlanRequest, PlannedBoat, UnheldBoat } from '../../../contract/desk-plan.js'
import { sayDay } from '../../wording/days.js'
import { sayPosition, sayShare, useDeskWords } from './desk-words.js'
import { LiftEditFields } from './lift-edit-fields.js'
import { OrderTable } from './order-table.js'
import { PlanAcceptance } from './plan-acceptance.js'
import { chosenLifts, type LiftEdit, type LiftEdits, liftKey } from './plan-choice.js'
import { savePlan } from './save-plan.js'

type PlannedDay = LiftPlanAnswer['days'][number]

/** What is changed by hand before the plan is taken over. */
interface Editing {
  readonly edits: LiftEdits
  readonly asOf: string
  readonly onEdit: (key: string, edit: LiftEdit) => void
}

/** The plan: how many lifts, on which day whom, for whom it cannot be kept and why, and what to order. */
export function PlanResult({ plan, request }: { plan: LiftPlanAnswer; request: LiftPlanRequest }) {
  const t = useDeskWords()
  const [edits, setEdits] = useState<LiftEdits>({})
  const editing: Editing = { edits, asOf: plan.asOf, onEdit: (key, edit) => setEdits({ ...edits, [key]: edit }) }
  const lifts = plan.days.reduce((sum, { boats }) => sum + boats.length, 0)
  const boats = new Set(plan.days.flatMap((day) => day.boats.map(({ boat }) => boat))).size
  return (
    <div className="stack desk-plan">
      <div className="desk-sum" role="status">
        <p className="desk-plan-sum">
          <strong>
            {t('plan.sum', { lifts: t('plan.lifts', { count: lifts }), boats: t('boats', { count: boats }) })}.
          </strong>{' '}
          {t('plan.held', { count: plan.unlifted.length, day: sayDay(plan.until) })}
        </p>
        <button type="button" className="button button-plain" onClick={() => void savePlan(request)}>
          {t('csv')}
        </button>
      </div>
      {plan.unheld.length > 0 && <Unheld plan={plan} />}
      <ol className="desk-days">
        {plan.days.map((day) => (
          <Day key={day.on} day={day} editing={editing} />
        ))}
      </ol>
      {lifts > 0 && <PlanAcceptance lifts={chosenLifts(plan, edits)} />}
      {plan.parts.length > 0 && (
        <section className="stack-tight">
          <h2>{t('plan.parts')}</h2>
          <OrderTable parts={plan.parts} />
        </section>
      )}
      {plan.unforecast.length > 0 && (
        <p className="small">
          {t('plan.unforecast', { count: plan.unforecast.length })} {plan.unforecast.join(', ')}
        </p>
      )}
      <p className="soft small desk-note">{t('plan.note')}</p>
    </div>
  )
}

function Unheld({ plan: { unheld } }: { plan: LiftPlanAnswer }) {
  const t = useDeskWords()
  return (
    <details className="caution desk-unheld" open={unheld.length <= 10}>
      <summary>
        <strong>{t('plan.unheldTitle', { count: unheld.length })}</strong>
      </summary>
      <ul className="desk-plain">
        {unheld.map((each) => (
          <UnheldItem key={each.boat} unheld={each} />
        ))}
      </ul>
    </details>
  )
}

function UnheldItem({ unheld }: { unheld: UnheldBoat }) {
  const t = useDeskWords()
  const { boat, position, reason, heldUntil, liftedOn, risk } = unheld
  return (
    <li>
      <Link to={`/boats/${encodeURIComponent(boat)}`}>{boat}</Link>, {sayPosition(position, t)}:{' '}
      {t(`plan.reason.${reason}`)}.{' '}
      <span className="soft">
        {heldUntil === null ? t('plan.passed') : t('plan.heldUntil', { day: sayDay(heldUntil) })}{' '}
        {liftedOn === null
          ? t('plan.notLifted')
          : t('plan.late', { day: sayDay(liftedOn), percent: sayShare(risk, t) })}
      </span>
    </li>
  )
}

function Day({ day: { on, places, boats }, editing }: { day: PlannedDay; editing: Editing }) {
  const t = useDeskWords()
  const left = places === null ? null : places - boats.length
  return (
    <li className="desk-day">
      <div className="desk-day-head">
        <h2>{sayDay(on)}</h2>
        <p className="soft small">
          {boats.length === 0 ? t('plan.nobody') : t('boats', { count: boats.length })}
          {left !== null && `, ${t('plan.free', { count: left })}`}
        </p>
      </div>
      {boats.length > 0 && (
        <ul className="desk-plain" aria-label={t('plan.day', { day: sayDay(on) })}>
          {boats.map((boat) => (
            <LiftItem key={boat.boat} lift={boat} on={on} editing={editing} />
          ))}
        </ul>
      )}
    </li>
  )
}

interface LiftItemProps {
  readonly lift: PlannedBoat
  readonly on: string
  readonly editing: Editing
}

function LiftItem({ lift: { boat, berth, latest, risk, replace }, on, editing }: LiftItemProps) {
  const t = useDeskWords()
  const key = liftKey(boat, on)
  const edit = editing.edits[key] ?? {}
  return (
    <li data-left-out={edit.isLeftOut ?? false}>
      <span>
        <Link to={`/boats/${encodeURIComponent(boat)}`}>{boat}</Link>{' '}
        {berth && <span className="soft small">{berth}</span>}{' '}
        {latest === null && <span className="tag tag-fast">! {t('plan.lateTag')}</span>}
      </span>
      <span className="soft small">
        {t('plan.replace')}:{' '}
        {replace.length === 0
          ? t('plan.nothing')
          : replace.map(({ position, anode }) => `${sayPosition(position, t)} (${anode})`).join(', ')}
        {` · ${t('fleet.risk')} ${sayShare(risk, t)}`}
        {latest !== null && latest !== on && ` · ${t('plan.latest')} ${sayDay(latest)}`}
      </span>
      <LiftEditFields
        boat={boat}
        plannedOn={on}
        edit={edit}
        earliest={editing.asOf}
        onEdit={(next) => editing.onEdit(key, next)}
      />
    </li>
  )
}
