import type { z } from 'zod'
import type { WhatIf } from '../../../../contract/what-if.js'
import type { FieldProblem } from '../../../api/problem.js'
import { addDays } from '../../../wording/days.js'
import { t } from '../boat-words.js'

/** The value of a choice of berth that is none: ashore. No berth has an empty name. */
export const ASHORE = ''
/** A stay to begin with: a winter ashore. */
const FIRST_STAY_DAYS = 182
/** Key of the stay that a plan begins with. */
export const FIRST_KEY = 0

export interface StayDraft {
  /** Tells entries apart while others are taken out. */
  readonly key: number
  readonly fromOn: string
  /** Empty where the stay goes on. */
  readonly toOn: string
  readonly berth: string
}

export interface LiftDraft {
  readonly key: number
  readonly on: string
}

/** A plan as it is typed. */
export interface PlanDraft {
  readonly stays: readonly StayDraft[]
  readonly lifts: readonly LiftDraft[]
  readonly nextKey: number
}

/** What is wrong, by JSON pointer into the request; '' for the plan as a whole. */
export type PlanProblems = ReadonlyMap<string, string>

export const NO_PROBLEMS: PlanProblems = new Map()

export function newPlan(asOf: string): PlanDraft {
  const first = { key: FIRST_KEY, fromOn: asOf, toOn: addDays(asOf, FIRST_STAY_DAYS), berth: ASHORE }
  return { stays: [first], lifts: [], nextKey: FIRST_KEY + 1 }
}

/** With one more stay, which begins where the last one ends. */
export function withStay(plan: PlanDraft): PlanDraft {
  const stay = { key: plan.nextKey, fromOn: plan.stays.at(-1)?.toOn ?? '', toOn: '', berth: ASHORE }
  return { ...plan, stays: [...plan.stays, stay], nextKey: plan.nextKey + 1 }
}

export function withLift(plan: PlanDraft): PlanDraft {
  return { ...plan, lifts: [...plan.lifts, { key: plan.nextKey, on: '' }], nextKey: plan.nextKey + 1 }
}

/** Without the stay or the lift of that key. */
export function withoutEntry(plan: PlanDraft, key: number): PlanDraft {
  const isOther = (entry: { readonly key: number }) => entry.key !== key
  return { ...plan, stays: plan.stays.filter(isOther), lifts: plan.lifts.filter(isOther) }
}

export function changedStay(plan: PlanDraft, key: number, part: Partial<StayDraft>): PlanDraft {
  return { ...plan, stays: plan.stays.map((stay) => (stay.key === key ? { ...stay, ...part } : stay)) }
}

export function changedLift(plan: PlanDraft, key: number, on: string): PlanDraft {
  return { ...plan, lifts: plan.lifts.map((lift) => (lift.key === key ? { key, on } : lift)) }
}

/** What a plan comes to: the request, and what it lacks. What dates mean is the service's to judge. */
export function planBody({ stays, lifts }: PlanDraft): { body: z.input<typeof WhatIf>; problems: PlanProblems } {
  const problems = new Map<string, string>()
  if (stays.length + lifts.length === 0) problems.set('', t('plan.needEntry'))
  for (const [index, { fromOn, toOn }] of stays.entries()) {
    if (fromOn === '') problems.set(`/stays/${index}/fromOn`, t('plan.needDate'))
    if (toOn === '' && index < stays.length - 1) problems.set(`/stays/${index}/toOn`, t('plan.needEnd'))
  }
  for (const [index, { on }] of lifts.entries()) if (on === '') problems.set(`/haulOuts/${index}`, t('plan.needDate'))
  const body = {
    stays: stays.map(({ fromOn, toOn, berth }) => ({
      fromOn,
      toOn: toOn === '' ? null : toOn,
      berth: berth === ASHORE ? null : berth,
    })),
    haulOuts: lifts.map(({ on }) => on),
  }
  return { body, problems }
}

/** The service's field errors by pointer, the first of each; those at no field of the plan come under ''. */
export function problemsAt(fields: readonly FieldProblem[]): PlanProblems {
  const problems = new Map<string, string>()
  for (const { pointer, detail } of fields) {
    const at = /^\/(stays\/\d+\/(fromOn|toOn|berth)|haulOuts\/\d+)$/.test(pointer) ? pointer : ''
    if (!problems.has(at)) problems.set(at, detail)
  }
  return problems
}

/** The same without those at some fields: they are being mended. */
export function withoutProblems(problems: PlanProblems, pointers: readonly string[]): PlanProblems {
  return new Map([...problems].filter(([pointer]) => !pointers.includes(pointer)))
}
