import { useState } from 'react'
import { DEFAULT_RISK } from '../../../contract/desk-plan.js'
import { useLiftPlan } from '../../api/desk.js'
import { dockToday } from '../../offline/service-clock.js'
import { Choice, Entry } from './choice.js'
import { DeskState } from './desk-state.js'
import { sayShare, useDeskWords } from './desk-words.js'
import { type PlanDraft, planRequest, usualDraft } from './plan-days.js'
import { PlanResult } from './plan-result.js'
import type { DeskQuery } from './use-desk-query.js'

export const RISKS = ['0.02', '0.05', '0.1', '0.2', '0.3', '0.5'] as const
const WEEKS = [1, 2, 3, 4] as const
const NAMES = ['from', 'to', 'every', 'places', 'risk', 'until'] as const

/** The fewest lifts that keep the accepted risk. What was asked is in the address, so that it can be saved and shared. */
export function PlanSection({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  const usual = usualDraft(dockToday())
  const asked = desk.get('plan-from') === '' ? null : askedDraft(desk, usual)
  const request = asked && planRequest(asked)
  const plan = useLiftPlan(request)
  return (
    <>
      <p className="desk-note">{t('plan.intro')}</p>
      <PlanForm key={desk.query.toString()} desk={desk} start={asked ?? usual} />
      {request !== null && <DeskState of={plan} />}
      {request !== null && plan.data && <PlanResult key={JSON.stringify(request)} plan={plan.data} request={request} />}
    </>
  )
}

function askedDraft(desk: DeskQuery, usual: PlanDraft): PlanDraft {
  return {
    from: desk.get('plan-from'),
    to: desk.get('plan-to'),
    every: desk.get('plan-every') || usual.every,
    places: desk.get('plan-places'),
    risk: desk.get('plan-risk') || String(DEFAULT_RISK),
    until: desk.get('plan-until'),
  }
}

function PlanForm({ desk, start }: { desk: DeskQuery; start: PlanDraft }) {
  const t = useDeskWords()
  const [draft, setDraft] = useState(start)
  const [isWrong, setIsWrong] = useState(false)
  const change = (part: Partial<PlanDraft>) => setDraft({ ...draft, ...part })
  const submit = (event: React.FormEvent) => {
    event.preventDefault()
    const isSound = planRequest(draft) !== null
    setIsWrong(!isSound)
    if (isSound) desk.set(Object.fromEntries(NAMES.map((name) => [`plan-${name}`, draft[name]])))
  }
  return (
    <form className="panel desk-form" onSubmit={submit} noValidate>
      <Entry label={t('plan.from')} type="date" value={draft.from} onChange={(from) => change({ from })} />
      <Entry label={t('plan.to')} type="date" value={draft.to} onChange={(to) => change({ to })} />
      <Choice
        label={t('plan.every')}
        value={draft.every}
        choices={WEEKS.map((count) => [String(count), t('plan.weeks', { count })] as const)}
        onChange={(every) => change({ every })}
      />
      <Entry
        label={t('plan.places')}
        hint={t('plan.placesHint')}
        inputMode="numeric"
        value={draft.places}
        onChange={(places) => change({ places })}
      />
      <Choice
        label={t('plan.risk')}
        value={draft.risk}
        choices={RISKS.map((risk) => [risk, sayShare(Number(risk), t)] as const)}
        onChange={(risk) => change({ risk })}
      />
      <Entry
        label={t('plan.until')}
        hint={t('plan.untilHint')}
        type="date"
        value={draft.until}
        onChange={(until) => change({ until })}
      />
      <div className="desk-form-end">
        <button type="submit" className="button button-main">
          {t('plan.make')}
        </button>
        {isWrong && (
          <p className="field-wrong" role="alert">
            {t('plan.wrong')}
          </p>
        )}
      </div>
    </form>
  )
}
