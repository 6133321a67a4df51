import { useMutation } from '@tanstack/react-query'
import { type FormEvent, useEffect, useRef, useState } from 'react'
import { ServiceProblem } from '../../../api/problem.js'
import { askWhatIf } from '../../../api/what-if.js'
import {
  changedLift,
  changedStay,
  NO_PROBLEMS,
  newPlan,
  type PlanDraft,
  type PlanProblems,
  planBody,
  problemsAt,
  type StayDraft,
  withLift,
  withoutEntry,
  withoutProblems,
  withStay,
} from './plan-draft.js'

/** The plan that is typed, what is wrong with it, and the service's answer to the plan asked last. */
export function usePlan(boat: string, asOf: string) {
  const [plan, setPlan] = useState(() => newPlan(asOf))
  const [problems, setProblems] = useState(NO_PROBLEMS)
  const asking = useAsking(boat, plan, setProblems)
  // Pointers count entries: with another number of them they would point elsewhere.
  const rebuild = (next: PlanDraft) => {
    setProblems(NO_PROBLEMS)
    setPlan(next)
  }
  const mend = (pointers: readonly string[]) => setProblems((before) => withoutProblems(before, pointers))
  return {
    ...asking,
    plan,
    problems,
    addStay: () => rebuild(withStay(plan)),
    addLift: () => rebuild(withLift(plan)),
    remove: (key: number) => rebuild(withoutEntry(plan, key)),
    changeStay: (index: number, key: number, part: Partial<StayDraft>) => {
      mend(Object.keys(part).map((field) => `/stays/${index}/${field}`))
      setPlan((before) => changedStay(before, key, part))
    },
    changeLift: (index: number, key: number, on: string) => {
      mend([`/haulOuts/${index}`])
      setPlan((before) => changedLift(before, key, on))
    },
  }
}

export type Planning = ReturnType<typeof usePlan>

function useAsking(boat: string, plan: PlanDraft, setProblems: (problems: PlanProblems) => void) {
  const form = useRef<HTMLFormElement>(null)
  const question = useMutation({ mutationFn: (asked: PlanDraft) => askWhatIf(boat, planBody(asked).body) })
  const [refusals, setRefusals] = useState(0)
  // Once its problems are drawn, the first field that has one is the place to go on.
  useEffect(() => {
    if (refusals > 0) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus()
  }, [refusals])
  const refuse = (problems: PlanProblems) => {
    setProblems(problems)
    setRefusals((before) => before + 1)
  }
  const ask = (event: FormEvent) => {
    event.preventDefault()
    if (question.isPending) return
    const { problems } = planBody(plan)
    if (problems.size > 0) return refuse(problems)
    setProblems(NO_PROBLEMS)
    question.mutate(plan, { onError: (error) => error instanceof ServiceProblem && refuse(problemsAt(error.fields)) })
  }
  return { form, question, ask }
}
