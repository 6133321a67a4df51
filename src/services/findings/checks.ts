import type { CheckView } from '../../contract/findings.js'
import { type CheckRow, DIAGNOSIS_CHECKS } from '../../engine/reference/diagnosis-checks.js'
import { SIGNS_AND_SAFETY } from '../../engine/reference/signs-and-safety.js'

/** The outcome of a check that told nothing: it stands in the history and counts for no cause. */
export const UNCLEAR = 'unclear'
const UNCLEAR_TEXT = 'It could not be made, or told nothing clear.'

/** Every check that can be recorded. */
export function allChecks(): CheckView[] {
  return DIAGNOSIS_CHECKS.map(viewOf)
}

export function findCheck(key: string): CheckView | undefined {
  const row = DIAGNOSIS_CHECKS.find((each) => each.key === key)
  return row && viewOf(row)
}

function viewOf({ key, title, how, outcomes, cautions }: CheckRow): CheckView {
  return {
    check: key,
    title,
    how: [...how],
    cautions: cautions.flatMap((caution) => SIGNS_AND_SAFETY.find((rule) => rule.key === caution)?.text ?? []),
    // A check that has an unclear outcome of its own, which tells something, keeps that one.
    outcomes: Object.entries({ [UNCLEAR]: UNCLEAR_TEXT, ...outcomes })
      .map(([outcome, text]) => ({ outcome, text }))
      .toSorted((a, b) => Number(a.outcome === UNCLEAR) - Number(b.outcome === UNCLEAR)),
  }
}
