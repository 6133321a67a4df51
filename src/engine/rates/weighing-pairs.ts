import { netMassEstimate } from '../depletion/mass-observation.js'
import { WEIGHING_ERROR } from '../depletion/weighing-error.js'
import type { DatedJudgement } from './fleet-history.js'
import type { ObservedAnode } from './mass-states.js'
import type { ObservedBoat } from './rate-intervals.js'

/** A judgement against what cleaned scale weighings around it say, in shares: of the net mass there, or of the new one. */
export interface WeighingPair {
  /** `residue`: an uncleaned anode on a scale, of the mass there; the others of the net mass when new. */
  readonly kind: 'residue' | 'dimensions' | 'visual'
  readonly error: number
  /** How well the expectation itself is known. */
  readonly errorSd: number
}

/** Nothing taken off: what was read, as read. */
const UNCORRECTED = {
  ...WEIGHING_ERROR,
  residueMeanShare: 0,
  unknownCleaningMeanShare: 0,
  dimensionsBiasShare: 0,
  visualBiasPoints: 0,
}
/** Between two weighings the loss runs on evenly but for this share of it, one standard deviation. Assumed. */
const UNEVENNESS = 0.3

/** A mass that a judgement can be held against. */
interface Anchor {
  readonly exposureDays: number
  readonly netMassG: number
  readonly sdG: number
}

/** Every pair in a fleet's history. */
export function weighingPairs(boats: readonly ObservedBoat[]): WeighingPair[] {
  return boats.flatMap((boat) => boat.anodes.flatMap((anode) => pairsOf(boat, anode)))
}

function pairsOf(boat: ObservedBoat, anode: ObservedAnode): WeighingPair[] {
  const { fitted, history, fromFitting } = anode
  const startOn = anode.states[0]!.on
  const exposureAt = (on: number) => boat.calendar.between(startOn, on).days
  const known = history.weighings.filter(({ on }) => on >= startOn)
  const anchors: Anchor[] = known.filter(isCleanedScale).flatMap(({ on, judgement }) => {
    const estimate = netMassEstimate(fitted, judgement, UNCORRECTED)
    return estimate === null ? [] : [{ exposureDays: exposureAt(on), ...estimate }]
  })
  if (fromFitting)
    anchors.unshift({ exposureDays: 0, netMassG: fitted.netMassG, sdG: Math.sqrt(anode.states[0]!.variance) })
  return known
    .filter((weighing) => !isCleanedScale(weighing))
    .flatMap(({ on, judgement }) => {
      const estimate = netMassEstimate(fitted, judgement, UNCORRECTED)
      const expected = between(anchors, exposureAt(on))
      if (estimate === null || expected === null || !(expected.netMassG > 0)) return []
      const residue = judgement.method === 'scale'
      // Whether it was cleaned is not known: it teaches nothing of residue.
      if (residue && judgement.cleaned === null) return []
      const whole = residue ? expected.netMassG : fitted.netMassG
      const kind = residue ? ('residue' as const) : (judgement.method as 'dimensions' | 'visual')
      return [{ kind, error: (estimate.netMassG - expected.netMassG) / whole, errorSd: expected.sdG / whole }]
    })
}

function isCleanedScale({ judgement }: DatedJudgement): boolean {
  return judgement.method === 'scale' && judgement.cleaned === true
}

/** The mass at an exposure between two anchors, in proportion; `null` outside them. */
function between(anchors: readonly Anchor[], exposureDays: number): Anchor | null {
  const after = anchors.findIndex((anchor) => anchor.exposureDays >= exposureDays)
  const b = anchors[after]
  const a = anchors[after - 1] ?? (b?.exposureDays === exposureDays ? b : undefined)
  if (a === undefined || b === undefined) return null
  const span = b.exposureDays - a.exposureDays
  const t = span > 0 ? (exposureDays - a.exposureDays) / span : 0
  const loss = a.netMassG - b.netMassG
  const sdG = Math.hypot((1 - t) * a.sdG, t * b.sdG, UNEVENNESS * loss * Math.sqrt(t * (1 - t)))
  return { exposureDays, netMassG: a.netMassG - t * loss, sdG }
}
