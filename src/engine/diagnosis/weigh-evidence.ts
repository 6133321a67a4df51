import { causeProbabilities, type Observed } from './cause-network.js'
import { CAUSES } from './causes.js'
import type { RankedCause } from './diagnosis.js'
import type { Evidence } from './evidence/evidence.js'

/**
 * The causes ranked, each with the weight that every piece of evidence has for it.
 *
 *     weight(i, c) = log O(c | with i) − log O(c | without i),  O = P/(1 − P)
 *
 * averaged over two orders of adding the evidence, that of the list and its reverse. In either order the weights add up, so the prior's
 * log odds and all weights together are the log odds at the end; two pieces that say the same thing share its weight between them.
 *
 * @param evidence at most one piece an observation
 * @returns causes by falling probability, which add to 1; weights [nat]
 * @see reference `good-1950`
 */
export function rankCauses(evidence: readonly Evidence[]): RankedCause[] {
  const forwards = gainsInOrder(evidence)
  const backwards = gainsInOrder([...evidence].reverse()).reverse()
  const probabilities = causeProbabilities(observedOf(evidence))
  return CAUSES.map((cause, c) => ({
    cause,
    probability: probabilities[c]!,
    evidence: evidence.map(({ observation, code, values }, i) => ({
      observation,
      code,
      values,
      weight: (forwards[i]![c]! + backwards[i]![c]!) / 2,
    })),
  })).sort((a, b) => b.probability - a.probability)
}

/** The evidence as states by observation. */
export function observedOf(evidence: readonly Evidence[]): Observed {
  return new Map(evidence.map(({ observation, state }) => [observation, state]))
}

/** By piece of evidence and cause: the change of the log odds as it is added to those before it. */
function gainsInOrder(evidence: readonly Evidence[]): number[][] {
  let before = logOdds(new Map())
  return evidence.map((_, i) => {
    const after = logOdds(observedOf(evidence.slice(0, i + 1)))
    const gains = after.map((odds, c) => odds - before[c]!)
    before = after
    return gains
  })
}

function logOdds(observed: Observed): number[] {
  const probabilities = causeProbabilities(observed)
  return probabilities.map(
    (p, c) => Math.log(p) - Math.log(probabilities.reduce((rest, q, d) => (d === c ? rest : rest + q), 0)),
  )
}
