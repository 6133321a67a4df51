import { describe, expect, it } from 'vitest'
import { anodesInPlace, outlookOf } from '../../../src/engine/forecast/anode-outlook.js'
import { forecastAnode } from '../../../src/engine/forecast/forecast-anode.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type { BoatHistory } from '../../../src/engine/rates/fleet-history.js'
import type { RateModel } from '../../../src/engine/rates/rate-model.js'
import { updateBoat } from '../../../src/engine/rates/update-boat.js'
import { simulateFleet, Uniform } from '../simulated-fleet.js'

const { fleet, asOf } = simulateFleet(new Uniform(5), 40, 4, {
  boat: 0.35,
  berth: 0.2,
  anode: 0.15,
  residual: 0.2,
  scaleG: 2,
})

/** The boat with one more weighing on one of its anodes, today, having lost a share of what it weighed when new. */
function weighedAgain(boat: BoatHistory, index: number, lostShare: number): BoatHistory {
  const inPlace = boat.anodes.filter(({ removedOn }) => removedOn === null)
  const chosen = inPlace[index % inPlace.length]!
  return {
    ...boat,
    anodes: boat.anodes.map((anode) => {
      if (anode !== chosen) return anode
      const last = anode.weighings.at(-1)?.judgement
      const before = last?.method === 'scale' ? last.grossMassG : anode.fittedGrossMassG!
      const grossMassG = before - lostShare * (anode.fittedGrossMassG! - anode.coreMassG!)
      const judgement = { method: 'scale' as const, grossMassG, resolutionG: 1, cleaned: true }
      return { ...anode, weighings: [...anode.weighings, { on: asOf, judgement }] }
    }),
  }
}

function forecastsOf(model: RateModel, boat: string) {
  return anodesInPlace(model)
    .filter((each) => each.boat.history.boat === boat)
    .map((each) => ({ key: each.anode.history.key, ...forecastAnode(model, outlookOf(model, each.boat, each.anode)) }))
}

describe('updateBoat', () => {
  const model = fitRates(fleet, asOf)

  it('gives the dates of the full refit to a tenth of their 80 % interval', () => {
    for (const [index, lostShare] of [0.1, 0.25, 0.02].entries()) {
      const boat = fleet.boats.filter(({ anodes }) => anodes.some(({ removedOn }) => removedOn === null))[index * 3]!
      const changed = weighedAgain(boat, index, lostShare)
      const quick = forecastsOf(updateBoat(model, changed)!, boat.boat)
      const refitted = fitRates({ ...fleet, boats: fleet.boats.map((each) => (each === boat ? changed : each)) }, asOf)
      for (const [at, full] of forecastsOf(refitted, boat.boat).entries()) {
        const width = full.replace.p90! - full.replace.p10!
        expect(Math.abs(quick[at]!.replace.p50! - full.replace.p50!)).toBeLessThan(0.1 * width + 1)
        expect(Math.abs(quick[at]!.massNow.p50 - full.massNow.p50)).toBeLessThan(3)
      }
    }
  })

  it('counts the losses of a whole boat weighed at once for as much as the full refit does', () => {
    for (const [index, lostShare] of [0.05, 0.2, 0.35].entries()) {
      const boat = fleet.boats.filter(({ anodes }) => anodes.some(({ removedOn }) => removedOn === null))[index * 4]!
      const count = boat.anodes.filter(({ removedOn }) => removedOn === null).length
      let changed = boat
      for (let each = 0; each < count; each++) changed = weighedAgain(changed, each, lostShare * (1 + each / 2))
      const quick = updateBoat(model, changed)!
      const refitted = fitRates({ ...fleet, boats: fleet.boats.map((each) => (each === boat ? changed : each)) }, asOf)
      const own = (fitted: RateModel) =>
        new Map(
          fitted.intervals.flatMap(({ context, to }, row) =>
            context.boat === boat.boat
              ? [[`${context.anode.history.key} ${to.on}`, fitted.weights[row]!] as const]
              : [],
          ),
        )
      const full = own(refitted)
      for (const [interval, weight] of own(quick)) expect(Math.abs(weight - full.get(interval)!)).toBeLessThan(0.25)
      const dates = forecastsOf(quick, boat.boat)
      for (const [at, { replace }] of forecastsOf(refitted, boat.boat).entries())
        expect(Math.abs(dates[at]!.replace.p50! - replace.p50!)).toBeLessThan(0.1 * (replace.p90! - replace.p10!) + 1)
    }
  })

  it('is the same model where nothing is new', () => {
    const same = updateBoat(model, fleet.boats[0]!)!
    expect(forecastsOf(same, fleet.boats[0]!.boat)).toEqual(forecastsOf(model, fleet.boats[0]!.boat))
  })

  it('asks for a refit where an old weighing was corrected', () => {
    const boat = fleet.boats.find(({ anodes }) => anodes.some(({ weighings }) => weighings.length > 0))!
    const corrected: BoatHistory = {
      ...boat,
      anodes: boat.anodes.map((anode) => ({
        ...anode,
        weighings: anode.weighings.map(({ on, judgement }) => ({
          on,
          judgement: judgement.method === 'scale' ? { ...judgement, grossMassG: judgement.grossMassG + 5 } : judgement,
        })),
      })),
    }
    expect(updateBoat(model, corrected)).toBeNull()
  })
})
