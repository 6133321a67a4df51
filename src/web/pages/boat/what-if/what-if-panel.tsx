import { ServiceProblem } from '../../../api/problem.js'
import { t } from '../boat-words.js'
import { PlanAnswer } from './plan-answer.js'
import type { PlanProblems } from './plan-draft.js'
import { PlanFields } from './plan-fields.js'
import { sayPlanned } from './plan-words.js'
import { type Planning, usePlan } from './use-plan.js'
import '../../haul-out/haul-out.css'
import './what-if.css'

/** A plan to try out: where the boat will lie and when it is lifted, and what that does to its dates. */
export function WhatIfPanel({ boat, asOf }: { boat: string; asOf: string }) {
  const planning = usePlan(boat, asOf)
  const { form, ask, problems, question } = planning
  return (
    <details className="panel fold what-if">
      <summary>
        <h2>{t('plan.title')}</h2>
        <span className="soft small">{t('plan.lead')}</span>
      </summary>
      <div className="stack">
        <form className="stack" ref={form} onSubmit={ask} noValidate aria-label={t('plan.form')}>
          <p className="soft">{t('plan.text')}</p>
          <PlanFields planning={planning} />
          <div role="alert" className="plan-refusal">
            <Refusal problems={problems} error={question.error} />
          </div>
          <button type="submit" className="button button-main" aria-disabled={question.isPending}>
            {t('plan.submit')}
          </button>
        </form>
        <Progress planning={planning} />
        {question.data && <PlanAnswer answer={question.data} />}
      </div>
    </details>
  )
}

function Progress({ planning: { plan, question } }: { planning: Planning }) {
  const isOutdated = question.data !== undefined && question.variables !== plan
  return (
    <p role="status" className={question.isPending || isOutdated ? 'soft' : 'plan-outcome'}>
      {question.isPending && t('plan.working')}
      {question.data && !isOutdated && sayPlanned(question.data.anodes)}
      {question.data && !question.isPending && isOutdated && t('plan.outdated')}
    </p>
  )
}

function Refusal({ problems, error }: { problems: PlanProblems; error: Error | null }) {
  const whole = problems.get('')
  if (whole !== undefined) return <p className="field-wrong">{whole}</p>
  if (problems.size > 0) {
    return <p className="field-wrong">{t('plan.second', { count: problems.size })}</p>
  }
  if (error === null || (error instanceof ServiceProblem && error.fields.length > 0)) return null
  return <p className="field-wrong">{t('plan.failed', { reason: error.message })}</p>
}
