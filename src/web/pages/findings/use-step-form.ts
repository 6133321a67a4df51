import { type FormEvent, useEffect, useRef, useState } from 'react'
import { type FindingDetail, type Step, type StepBody, useStep } from '../../api/findings.js'
import { ServiceProblem } from '../../api/problem.js'

/** What is wrong with a field, by its name in the request. */
export type FieldWrongs = ReadonlyMap<string, string>

const NOTHING_WRONG: FieldWrongs = new Map()

interface StepFormOptions<Of extends Step> {
  finding: FindingDetail
  step: Of
  /** The request, or what is missing for it. */
  bodyOf: () => StepBody<Of> | FieldWrongs
  /** What to do with what came of it. */
  onDone: (detail: FindingDetail) => void
}

/** A form that takes one step in a finding's life; what the service refuses stands at its field, which gets the focus. */
export function useStepForm<Of extends Step>({ finding, step, bodyOf, onDone }: StepFormOptions<Of>) {
  const form = useRef<HTMLFormElement>(null)
  const [wrongs, setWrongs] = useState(NOTHING_WRONG)
  const [refusals, setRefusals] = useState(0)
  const sending = useStep(finding, step)
  useEffect(() => {
    if (refusals > 0) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus()
  }, [refusals])
  const refuse = (next: FieldWrongs) => {
    setWrongs(next)
    setRefusals((before) => before + 1)
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    if (sending.isPending) return
    const body = bodyOf()
    if (isWrong(body)) return refuse(body)
    setWrongs(NOTHING_WRONG)
    sending.mutate(body, { onSuccess: onDone, onError: (error) => refuse(wrongsOf(error)) })
  }
  const failure = sending.error === null || wrongs.size > 0 ? null : sending.error.message
  return { form, wrongs, submit, failure, isPending: sending.isPending }
}

function isWrong(body: object): body is FieldWrongs {
  return body instanceof Map
}

function wrongsOf(error: unknown): FieldWrongs {
  if (!(error instanceof ServiceProblem)) return NOTHING_WRONG
  return new Map(error.fields.map(({ pointer, detail }) => [pointer.replace(/^\//, ''), detail]))
}
