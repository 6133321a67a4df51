import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { detectAnomalies } from '../../../src/engine/diagnosis/detection/detect.js'
import { presentRates } from '../../../src/engine/diagnosis/present-rates.js'
import { anodesInPlace, outlookOf } from '../../../src/engine/forecast/anode-outlook.js'
import { forecastAnode } from '../../../src/engine/forecast/forecast-anode.js'
import { followPresent } from '../../../src/engine/forecast/present-rate.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type { AnodeHistory, FleetHistory } from '../../../src/engine/rates/fleet-history.js'
import { simulateFleet, Uniform } from '../simulated-fleet.js'

const SPREAD = { boat: 0.2, berth: 0.1, anode: 0.1, residual: 0.15, scaleG: 2 }
const { fleet, asOf } = simulateFleet(new Uniform(23), 40, 4, SPREAD)

const DATES = ['p05', 'p10', 'p50', 'p90', 'p95'] as const
const dayOf = (day: number | null) => day ?? Infinity

describe('followPresent', () => {
  const model = fitRates(fleet, asOf)
  const outlooks = anodesInPlace(model).map(({ boat, anode }) => outlookOf(model, boat, anode))

  it('makes no date later, however large or unsure the fault', () => {
    const excess = fc.record({
      mean: fc.double({ min: 0, max: 4, noNaN: true }),
      sd: fc.double({ min: 0, max: 3, noNaN: true }),
    })
    fc.assert(
      fc.property(fc.constantFrom(...outlooks), excess, (outlook, { mean, sd }) => {
        const before = forecastAnode(model, outlook)
        const after = forecastAnode(model, followPresent(outlook, { mean, variance: sd ** 2 }))
        for (const at of DATES) expect(dayOf(after.replace[at])).toBeLessThanOrEqual(dayOf(before.replace[at]))
        expect(after.rate.p50).toBeGreaterThanOrEqual(before.rate.p50)
      }),
      { numRuns: 60 },
    )
  })

  it('leaves an outlook alone without a fault', () => {
    expect(followPresent(outlooks[0]!, undefined)).toBe(outlooks[0])
  })
})

const FACTOR = 3

/** The anode as it would be had it gone three times as fast since the weighing before the last; undefined where it has not the mass. */
function goneFast(anode: AnodeHistory): AnodeHistory | undefined {
  const last = anode.weighings.at(-1)
  const before = anode.weighings.at(-2)?.judgement
  if (anode.removedOn !== null || last?.judgement.method !== 'scale') return undefined
  const from = before?.method === 'scale' ? before.grossMassG : anode.fittedGrossMassG!
  const grossMassG = from - FACTOR * (from - last.judgement.grossMassG)
  if (grossMassG < anode.coreMassG! + 20) return undefined
  const weighing = { on: last.on, judgement: { ...last.judgement, grossMassG } }
  return { ...anode, weighings: [...anode.weighings.slice(0, -1), weighing] }
}

/** The fleet with a fault on the first boat that has two such anodes. */
function withFault(): { troubled: FleetHistory; boat: string } {
  const { boat } = fleet.boats.find(({ anodes }) => anodes.filter((anode) => goneFast(anode)).length >= 2)!
  const boats = fleet.boats.map((each) =>
    each.boat === boat ? { ...each, anodes: each.anodes.map((anode) => goneFast(anode) ?? anode) } : each,
  )
  return { troubled: { ...fleet, boats }, boat }
}

describe('presentRates', () => {
  const facts = { berths: [], boats: [] }

  it('follows a fault that began lately: the anodes go on faster than the fit alone expects', () => {
    const { troubled, boat } = withFault()
    const model = fitRates(troubled, asOf)
    const fast = detectAnomalies(model, facts, { falseDiscoveryRate: 0.05 }).filter(
      (each) => each.boat === boat && each.direction === 'fast',
    )
    expect(fast.length).toBeGreaterThan(0)
    const present = presentRates(
      model,
      fast.map((anomaly) => ({ anomaly, causes: [] })),
    )
    expect(present.size).toBeGreaterThan(0)
    for (const { boat: observed, anode } of anodesInPlace(model)) {
      const excess = present.get(anode.history.key)
      if (excess === undefined) continue
      expect(observed.history.boat).toBe(boat)
      const outlook = outlookOf(model, observed, anode)
      const usual = forecastAnode(model, outlook)
      const now = forecastAnode(model, followPresent(outlook, excess))
      expect(now.rate.p50).toBeGreaterThan(1.3 * usual.rate.p50)
      expect(dayOf(now.replace.p50)).toBeLessThanOrEqual(dayOf(usual.replace.p50))
      // As it went in the faulty interval, but for the noise of one interval and for when in it the fault began.
      const interval = model.intervals.findLast(({ context }) => context.anode.history.key === anode.history.key)!
      const seen = interval.consumption / interval.context.exposure.days
      expect(Math.abs(Math.log(now.rate.p50 / seen))).toBeLessThan(0.6)
    }
  })

  it('leaves alone what was so all along, and what broke off at once', () => {
    const { troubled, boat } = withFault()
    const model = fitRates(troubled, asOf)
    const fast = detectAnomalies(model, facts, { falseDiscoveryRate: 0.05 }).filter((each) => each.boat === boat)
    const always = fast.map((anomaly) => ({ anomaly: { ...anomaly, onset: null }, causes: [] }))
    expect(presentRates(model, always).size).toBe(0)
    const broken = [{ cause: 'mechanical-loss' as const, probability: 1, evidence: [] }]
    expect(
      presentRates(
        model,
        fast.map((anomaly) => ({ anomaly, causes: broken })),
      ).size,
    ).toBe(0)
    expect(
      presentRates(
        model,
        fast.map((anomaly) => ({ anomaly, causes: [] })),
      ).size,
    ).toBeGreaterThan(0)
  })

  it('says nothing without fast anomalies', () => {
    const model = fitRates(fleet, asOf)
    expect(presentRates(model, []).size).toBe(0)
  })
})
