import { describe, expect, it } from 'vitest'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type {
  AnodeHistory,
  DatedJudgement,
  ExplainedSpan,
  FleetHistory,
} from '../../../src/engine/rates/fleet-history.js'
import type { RateModel } from '../../../src/engine/rates/rate-model.js'
import { simulateFleet, Uniform } from '../simulated-fleet.js'

const { fleet, asOf } = simulateFleet(new Uniform(11), 40, 4, {
  boat: 0.3,
  berth: 0.2,
  anode: 0.1,
  residual: 0.2,
  scaleG: 2,
})
const TROUBLED = 'P3'

/** Every anode at the troubled berth, changed. */
function atTroubledBerth(change: (anode: AnodeHistory) => AnodeHistory): FleetHistory {
  return {
    ...fleet,
    boats: fleet.boats.map((boat) =>
      boat.stays[0]!.berth === TROUBLED ? { ...boat, anodes: boat.anodes.map(change) } : boat,
    ),
  }
}

function grossOf(anode: AnodeHistory, index: number): number {
  const judgement = index < 0 ? undefined : anode.weighings[index]?.judgement
  return judgement?.method === 'scale' ? judgement.grossMassG : anode.fittedGrossMassG!
}

/** In its last interval the anode lost 2.2 times as much, as far as there is net mass to lose. */
function lostFast(anode: AnodeHistory): AnodeHistory {
  const last = anode.weighings.length - 1
  if (last < 0) return anode
  const [before, now] = [grossOf(anode, last - 1), grossOf(anode, last)]
  const grossMassG = Math.max(before - 2.2 * (before - now), anode.coreMassG! + 10)
  const judgement = { method: 'scale' as const, grossMassG, resolutionG: 1, cleaned: true }
  const weighing: DatedJudgement = { on: anode.weighings[last]!.on, judgement }
  return { ...anode, weighings: [...anode.weighings.slice(0, last), weighing] }
}

function explainedLast(by: ExplainedSpan['by'], to: number | null) {
  return (anode: AnodeHistory): AnodeHistory => {
    const last = anode.weighings.at(-1)?.on
    const before = anode.weighings.at(-2)?.on ?? anode.fittedOn!
    return last === undefined ? anode : { ...anode, explained: [{ from: before + 1, to: to ?? last, by }] }
  }
}

const withoutLast = (anode: AnodeHistory): AnodeHistory => ({ ...anode, weighings: anode.weighings.slice(0, -1) })

function effectOf(model: RateModel): number {
  return model.fit!.effects.berth!.find(({ level }) => level === TROUBLED)!.mode
}

describe('wear that is explained', () => {
  const troubled = atTroubledBerth(lostFast)
  const mark = (change: (anode: AnodeHistory) => AnodeHistory) => atTroubledBerth((anode) => change(lostFast(anode)))
  const believed = fitRates(troubled, asOf)
  const explained = fitRates(mark(explainedLast('fault', null)), asOf)
  const unseen = fitRates(atTroubledBerth(withoutLast), asOf)

  it('by a fault leaves the effect of its berth as if it had not been seen', () => {
    expect(effectOf(believed)).toBeGreaterThan(effectOf(unseen) + 0.1)
    expect(Math.abs(effectOf(explained) - effectOf(unseen))).toBeLessThan(0.02)
    for (const [term, variance] of Object.entries(unseen.variances)) {
      expect(Math.abs(Math.sqrt(explained.variances[term]!) - Math.sqrt(variance))).toBeLessThan(0.02)
    }
  })

  it('stays among the intervals, with no weight', () => {
    expect(explained.intervals).toHaveLength(believed.intervals.length)
    const left = explained.intervals.filter(({ explained }) => explained !== 'not')
    expect(left.length).toBeGreaterThan(5)
    explained.intervals.forEach((interval, row) => {
      if (interval.explained === 'not') expect(explained.weights[row]).toBeGreaterThan(0)
      else expect(explained.weights[row]).toBe(0)
    })
  })

  it('as being in order counts like any other', () => {
    const ordinary = fitRates(mark(explainedLast('ordinary', null)), asOf)
    expect(effectOf(ordinary)).toBeCloseTo(effectOf(believed), 10)
  })

  it('knows an interval by any day that it shares with the span', () => {
    const model = fitRates(
      mark((anode) => ({ ...anode, explained: [{ from: asOf - 100, to: null, by: 'fault' }] })),
      asOf,
    )
    for (const { context, to, explained } of model.intervals) {
      const atBerth = fleet.boats.find(({ boat }) => boat === context.boat)!.stays[0]!.berth === TROUBLED
      expect(explained).toBe(atBerth && to.on > asOf - 100 ? 'fault-goes-on' : 'not')
    }
  })
})
