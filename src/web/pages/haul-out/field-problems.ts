import { CONFIRMABLE_DOUBTS, type ConfirmableDoubt } from '../../../contract/weighings.js'
import type { FieldProblem } from '../../api/problem.js'

/** A refusal sorted to where it can be mended. */
export interface SortedProblems {
  /** By anode; pointers start at the anode ('massG', 'replacedBy/alloy'). */
  readonly anodes: ReadonlyMap<string, readonly FieldProblem[]>
  /** Of the form's own fields ('hauledOn', 'relaunchedOn', 'relaunch/berth', 'note'). */
  readonly form: readonly FieldProblem[]
}

export const NO_PROBLEMS: SortedProblems = { anodes: new Map(), form: [] }

/**
 * Sorts the service's field errors to the anodes of the form.
 *
 * @param sent anodes in the order of the request's `weighings`
 */
export function sortProblems(problems: readonly FieldProblem[], sent: readonly string[]): SortedProblems {
  const anodes = new Map<string, FieldProblem[]>()
  const form: FieldProblem[] = []
  for (const problem of problems) {
    const match = /^\/weighings\/(\d+)(?:\/(.*))?$/.exec(problem.pointer)
    const anode = match ? sent[Number(match[1])] : undefined
    if (anode === undefined) form.push({ ...problem, pointer: problem.pointer.replace(/^\//, '') })
    else anodes.set(anode, [...(anodes.get(anode) ?? []), { ...problem, pointer: match?.[2] ?? '' }])
  }
  return { anodes, form }
}

/** The same without what stood at one field of an anode: it is being mended. */
export function withoutField(problems: SortedProblems, anode: string, pointer: string): SortedProblems {
  const left = (problems.anodes.get(anode) ?? []).filter((problem) => problem.pointer !== pointer)
  return { ...problems, anodes: new Map(problems.anodes).set(anode, left) }
}

/** The doubt behind a refusal, where a second look may settle it. */
export function doubtOf(problem: FieldProblem): ConfirmableDoubt | undefined {
  return CONFIRMABLE_DOUBTS.find((doubt) => doubt === problem.code)
}

export function countProblems(problems: SortedProblems): number {
  return problems.form.length + [...problems.anodes.values()].reduce((sum, list) => sum + list.length, 0)
}
