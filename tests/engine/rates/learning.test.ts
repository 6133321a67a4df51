import { describe, expect, it } from 'vitest'
import { netMassAfter } from '../../../src/engine/depletion/consumption-coordinate.js'
import { WEIGHING_ERROR } from '../../../src/engine/depletion/weighing-error.js'
import type {
  AnodeHistory,
  BoatHistory,
  DatedJudgement,
  FleetHistory,
} from '../../../src/engine/rates/fleet-history.js'
import { learnObservationModel } from '../../../src/engine/rates/learn-observation-model.js'
import { defaultObservationModel, UNKNOWN_CORE } from '../../../src/engine/rates/observation-model.js'
import { observeFleet } from '../../../src/engine/rates/rate-intervals.js'
import { Uniform } from '../simulated-fleet.js'

const START = 18_000
const NEW_NET_G = 1000
const CORE_G = 60

function scale(on: number, netG: number, cleaned: boolean | null = true): DatedJudgement {
  return { on, judgement: { method: 'scale', grossMassG: netG + CORE_G, resolutionG: 1, cleaned } }
}

function anodeOf(
  key: string,
  shape: string,
  weighings: DatedJudgement[],
  more: Partial<AnodeHistory> = {},
): AnodeHistory {
  return {
    key,
    anode: key,
    position: 'hull',
    alloy: 'zinc',
    shape,
    fittedOn: START,
    removedOn: null,
    fittedGrossMassG: NEW_NET_G + CORE_G,
    coreMassG: CORE_G,
    dimensions: { lengthMm: 100, widthMm: 100, heightMm: 100 },
    threshold: 0.5,
    weighings,
    ...more,
  }
}

function boatOf(name: string, anodes: AnodeHistory[]): BoatHistory {
  return { boat: name, stays: [{ from: START, to: null, berth: 'P' }], haulOuts: [], anodes, demandCurrentA: null }
}

function learn(anodes: AnodeHistory[]) {
  const fleet: FleetHistory = {
    berths: [{ berth: 'P', water: 'salt', latitude: 0 }],
    boats: anodes.map((anode, index) => boatOf(`B${index}`, [anode])),
  }
  return learnObservationModel(fleet, START + 4000, {
    ...defaultObservationModel(0),
    season: { cos: 0, sin: 0, warmestDay: 228 },
  })
}

/** An anode that wastes by dm/dt = −k·(m/m₀)^q with 10 % noise a year, weighed on a scale each year. */
function wasting(random: Uniform, key: string, shape: string, exponent: number): AnodeHistory {
  const perYear = NEW_NET_G * (0.15 + 0.15 * random.next())
  let net = NEW_NET_G
  const weighings = [1, 2, 3, 4].map((year) => {
    net = netMassAfter(NEW_NET_G, net, perYear * Math.exp(0.1 * random.normal()), exponent)
    return scale(START + 365 * year, net + random.normal())
  })
  return anodeOf(key, shape, weighings)
}

describe('the depletion exponent', () => {
  it('is found by shape from anodes weighed several times', () => {
    const random = new Uniform(21)
    const anodes = Array.from({ length: 60 }, (_, index) => [
      wasting(random, `flat${index}`, 'Plate', 0),
      wasting(random, `round${index}`, 'disc', 2 / 3),
    ]).flat()
    const { exponents } = learn(anodes)
    const of = (shape: string) => exponents.find((each) => each.shape === shape)!
    // 60 anodes of four intervals at 10 % noise tell q to about ±0.1.
    expect(of('plate').exponent).toBeLessThan(0.2)
    expect(Math.abs(of('disc').exponent - 2 / 3)).toBeLessThan(0.25)
    expect(of('disc').evidence).toBeGreaterThan(5)
    expect(of('disc').anodes).toBe(60)
    const probabilities = (shape: string) => of(shape).laws.map(({ probability }) => probability)
    expect(of('disc').laws.map(({ exponent }) => exponent)).toEqual([0, 2 / 3, 1])
    for (const shape of ['plate', 'disc']) {
      expect(probabilities(shape).reduce((sum, each) => sum + each, 0)).toBeCloseTo(1, 12)
      expect(of(shape).sd).toBeLessThan(0.2)
    }
    expect(probabilities('plate')[0]).toBeGreaterThan(0.95)
    expect(probabilities('disc')[1]).toBeGreaterThan(0.5)
    expect(Math.abs(of('disc').exponent - 2 / 3)).toBeLessThan(3 * of('disc').sd)
  })

  it('stays at constant current where few anodes tell', () => {
    const random = new Uniform(22)
    const { exponents } = learn([wasting(random, 'a', 'disc', 0.3)])
    expect(exponents[0]!.exponent).toBeLessThan(0.4)
    // One anode says little: what is believed is hardly narrower than the belief beforehand, half of it cut off at 0.
    expect(exponents[0]!.sd).toBeGreaterThan(0.1)
    const once = anodeOf('b', 'bar', [scale(START + 365, 700)])
    expect(learn([once]).exponents).toEqual([])
  })

  it('is not taken from boats that waste fast: between anodes nothing counts', () => {
    const random = new Uniform(23)
    const anodes = Array.from({ length: 40 }, (_, index) => {
      const perYear = 100 + 15 * index
      const halves = [0, 0].map(() => (perYear / 2) * Math.exp(0.15 * random.normal()))
      const first = NEW_NET_G - halves[0]!
      return anodeOf(`a${index}`, 'bar', [scale(START + 182, first), scale(START + 365, first - halves[1]!)])
    })
    expect(learn(anodes).exponents[0]!.exponent).toBeLessThan(0.2)
  })
})

describe('the errors of weighing', () => {
  /** Straight wasting, weighed clean at the ends and once between by another way that reads `biasShare` too heavy. */
  const pairs = (count: number, judge: (netG: number, random: Uniform) => DatedJudgement['judgement']) => {
    const random = new Uniform(24)
    return Array.from({ length: count }, (_, index) => {
      const between = { on: START + 180, judgement: judge(NEW_NET_G - 180, random) }
      return anodeOf(`a${index}`, 'block', [between, scale(START + 360, NEW_NET_G - 360)])
    })
  }

  it('are learned from pairs: residue, bias and spread of eye and calipers', () => {
    const residue = learn(pairs(80, (net, random) => scale(0, net * (1.06 + 0.01 * random.normal()), false).judgement))
      .model.errors
    expect(residue.residueMeanShare).toBeGreaterThan(0.045)
    expect(residue.residueSdShare).toBeLessThan(WEIGHING_ERROR.residueSdShare)
    const visual = learn(
      pairs(80, (net, random) => ({
        method: 'visual',
        consumedFraction: 1 - net / NEW_NET_G - 0.08 + 0.04 * random.normal(),
      })),
    ).model.errors
    expect(visual.visualBiasPoints).toBeGreaterThan(0.05)
    expect(visual.visualSdPoints).toBeLessThan(0.07)
    const dimensions = learn(
      pairs(80, (net, random) => ({
        method: 'dimensions',
        dimensions: { lengthMm: 100, widthMm: 100, heightMm: 100 * (net / NEW_NET_G + 0.02 + 0.02 * random.normal()) },
      })),
    ).model.errors
    expect(Math.abs(dimensions.dimensionsBiasShare - 0.02)).toBeLessThan(0.02)
  })

  it('stay as stated where there are no pairs, and do not follow one slip of the keyboard', () => {
    const { errors } = learn([anodeOf('a', 'bar', [scale(START + 365, 700)])]).model
    expect(errors).toMatchObject({ visualSdPoints: WEIGHING_ERROR.visualSdPoints, visualBiasPoints: 0 })
    const slip = learn(pairs(1, () => ({ method: 'visual', consumedFraction: 0.95 }))).model.errors
    expect(Math.abs(slip.visualBiasPoints)).toBeLessThan(0.02)
  })
})

describe('what nobody weighed', () => {
  it('takes a core as usual for its shape, with its uncertainty', () => {
    const known = Array.from({ length: 20 }, (_, index) => anodeOf(`a${index}`, 'bar', [], { coreMassG: 150 + index }))
    const { model } = learn([...known, anodeOf('unknown', 'bar', [], { coreMassG: null })])
    expect(model.cores.bar!.share).toBeCloseTo(160 / 1060, 1)
    expect(model.cores.bar!.sd).toBeLessThan(UNKNOWN_CORE.sd)
    expect(model.cores.disc).toBeUndefined()
  })

  it('takes a new mass from the other anodes of the position', () => {
    const sibling = anodeOf('old', 'bar', [scale(START + 365, 500)], { removedOn: START + 365 })
    const current = anodeOf('now', 'bar', [scale(START + 500, 700)], { fittedOn: START + 365, fittedGrossMassG: null })
    const fleet = { berths: [], boats: [boatOf('B', [sibling, current])] }
    const [boat] = observeFleet(fleet, START + 600, defaultObservationModel(null))
    const now = boat!.anodes.find(({ history }) => history.key === 'now')!
    expect(now.fitted.netMassG).toBeCloseTo(NEW_NET_G, 6)
    expect(now.fitted.newSdG).toBeGreaterThan(0)
    expect(now.states[0]!.consumption).toBeCloseTo(300, 6)
  })
})
