import type { HiddenRow, ObservationRow } from '../../engine/reference/cause-tables.js'
import type { CheckRow } from '../../engine/reference/diagnosis-checks.js'

/** A table of likelihoods with a row for each condition that has probabilities of its own, and one for all others. */
export function likelihoodRows(rows: readonly (HiddenRow | ObservationRow)[]) {
  return rows.flatMap(({ likelihood, states, ...row }) => {
    const given = [...Object.entries(likelihood.of ?? {}), ['all others', likelihood.others] as const]
    return given.map(([condition, probabilities]) => ({
      key: row.key,
      parent: 'parent' in row ? row.parent : 'cause',
      given: condition,
      states,
      probabilities,
      status: row.status,
      sources: row.sources,
      note: row.note,
    }))
  })
}

/** Checks with each outcome as a sentence after the state that it stands for. */
export function checkRows(rows: readonly CheckRow[]) {
  return rows.map(({ outcomes, ...row }) => ({
    ...row,
    outcomes: Object.entries(outcomes).map(([state, text]) => `${state}: ${text}`),
  }))
}
