import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Scope } from '../../../../src/engine/diagnosis/anomaly.js'
import type { Candidate } from '../../../../src/engine/diagnosis/detection/candidate.js'
import type { JudgedLoss } from '../../../../src/engine/diagnosis/detection/judged-losses.js'
import { type Panel, PanelView } from '../../../../src/engine/diagnosis/detection/panel.js'
import { shareIn } from '../../../../src/engine/diagnosis/detection/scan.js'
import { panelsOfBoats, shareOut, Whereabouts } from '../../../../src/engine/diagnosis/detection/sharing.js'
import { simulateFleet, Uniform } from '../../simulated-fleet.js'
import { searchedFleet } from './searched-fleet.js'

const SPREAD = { boat: 0.3, berth: 0.2, anode: 0.15, residual: 0.2, scaleG: 2 }
const { fleet, asOf } = simulateFleet(new Uniform(3), 24, 5, SPREAD)
const { model, searches } = searchedFleet(fleet, asOf)
const panels = panelsOfBoats(searches.places, searches.boats)
const STRETCH = { from: asOf - 2 * 365, to: asOf, isWhole: false, isSingle: false, weight: 0.1 }
const SHIFT = Math.log(2.5)

const berthOf = (boat: string) => fleet.boats.find((each) => each.boat === boat)!.stays[0]!.berth!
/** A boat that has neighbours at its berth, on a pontoon of two berths that has other boats. */
const BOAT = fleet.boats.find(
  ({ boat }) => fleet.boats.filter((other) => berthOf(other.boat) === berthOf(boat)).length > 3,
)!.boat
const BERTH = berthOf(BOAT)
const NEXT = fleet.berths
  .map(({ berth }) => berth)
  .find((berth) => berth !== BERTH && fleet.boats.some(({ boat }) => berthOf(boat) === berth))!
const pontoonOf = new Map(fleet.berths.map(({ berth }) => [berth, berth === BERTH || berth === NEXT ? 'A' : 'B']))

/** The fleet's panels with scores that a shift of some losses over the stretch alone would give. */
function shifted(isStruck: (loss: JudgedLoss) => boolean, shift = SHIFT, of = panels): Whereabouts {
  const struck = [...of].map(([boat, panel]): [string, Panel] => [
    boat,
    {
      ...panel,
      scores: Float64Array.from(panel.losses, (loss, i) =>
        isStruck(loss) ? (shift * shareIn(loss, STRETCH)) / panel.sds[i]! : 0,
      ),
    },
  ])
  return new Whereabouts(model, pontoonOf, new Map(struck))
}

function candidateOf(scope: Scope, isMember: (loss: JudgedLoss) => boolean): Candidate {
  const members = [...panels.values()]
    .flatMap(({ losses }) => losses)
    .filter((loss) => isMember(loss) && shareIn(loss, STRETCH) > 0.25)
  const isOfBoat = scope === 'anode' || scope === 'boat'
  return {
    scope,
    boat: isOfBoat ? BOAT : null,
    berth: scope === 'berth' ? BERTH : null,
    pontoon: scope === 'pontoon' ? 'A' : null,
    stretch: STRETCH,
    evidence: { response: 0, information: 0 },
    score: 5,
    isDrift: false,
    p: 1e-5,
    parts: [],
    losses: members,
  }
}

const isShaft = ({ anode }: JudgedLoss) => anode.includes('shaft')
const OF = {
  anode: (loss: JudgedLoss) => loss.boat === BOAT && isShaft(loss),
  boat: ({ boat }: JudgedLoss) => boat === BOAT,
  berth: ({ boat }: JudgedLoss) => berthOf(boat) === BERTH,
  pontoon: ({ boat }: JudgedLoss) => pontoonOf.get(berthOf(boat)) === 'A',
}
const SCOPES = ['anode', 'boat', 'berth', 'pontoon'] as const

describe('shareOut', () => {
  it.each(SCOPES)('finds that one anode shares its shift with: %s', (struck) => {
    const shares = shareOut(shifted(OF[struck]), candidateOf('anode', OF.anode), SHIFT)
    const largest = SCOPES.reduce((best, each) => (shares[each] > shares[best] ? each : best))
    expect(largest).toBe(struck)
  })

  it.each(SCOPES)('gives nothing to levels within a candidate of the level %s', (scope) => {
    const shares = shareOut(shifted(OF[scope]), candidateOf(scope, OF[scope]), SHIFT)
    for (const inner of SCOPES.slice(0, SCOPES.indexOf(scope))) expect(shares[inner]).toBe(0)
    expect(shares[scope]).toBeGreaterThan(0.5)
  })

  it('gives a shift to the pontoon though no other boat lies at the berth', () => {
    const alone = [...panels].filter(([boat]) => boat === BOAT || berthOf(boat) !== BERTH)
    const where = shifted(OF.pontoon, SHIFT, new Map(alone))
    expect(shareOut(where, candidateOf('boat', OF.boat), SHIFT).pontoon).toBeGreaterThan(0.5)
  })

  it('adds to 1 with no share below 0, whatever was found around it', () => {
    const shift = fc.double({ min: -3, max: 3, noNaN: true })
    fc.assert(
      fc.property(
        fc.constantFrom(...SCOPES),
        fc.constantFrom(...SCOPES),
        shift,
        shift,
        (scope, struck, own, around) => {
          const shares = shareOut(shifted(OF[struck], around), candidateOf(scope, OF[scope]), own)
          expect(Object.values(shares).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 10)
          expect(Math.min(...Object.values(shares))).toBeGreaterThanOrEqual(0)
        },
      ),
      { numRuns: 40 },
    )
  })

  it('gives a shift the other way than that of its neighbours to itself alone', () => {
    const shares = shareOut(shifted(OF.pontoon, -SHIFT), candidateOf('anode', OF.anode), SHIFT)
    expect(shares).toEqual({ anode: 1, boat: 0, berth: 0, pontoon: 0 })
  })

  it('gives no shift to the level at which it was found', () => {
    for (const scope of SCOPES)
      expect(shareOut(shifted(OF.boat), candidateOf(scope, OF[scope]), 0)).toMatchObject({ [scope]: 1 })
  })

  it('gives others the more, the more they shift alike', () => {
    const boats = [0, 0.3, 0.6, 0.9].map(
      (part) => 1 - shareOut(shifted(OF.boat, part * SHIFT), candidateOf('anode', OF.anode), SHIFT).anode,
    )
    expect(boats).toEqual([...boats].sort((a, b) => a - b))
    expect(boats[0]).toBe(0)
    expect(boats[3]).toBeGreaterThan(0.5)
  })
})

describe('Whereabouts', () => {
  const where = shifted(() => false)

  it('knows where losses came about, and who lay there', () => {
    const own = panels.get(BOAT)!
    expect(where.berthOf(own.losses)).toBe(BERTH)
    expect(where.pontoonOf(BERTH)).toBe('A')
    const there = where.panelsAt((berth) => berth === BERTH).map(({ losses }) => losses[0]!.boat)
    expect(there.sort()).toEqual([...panels.keys()].filter((boat) => berthOf(boat) === BERTH).sort())
  })

  it('knows nothing of nowhere', () => {
    expect(where.berthOf([])).toBeNull()
    expect(where.pontoonOf(null)).toBeNull()
    expect(where.panelOf('nobody')).toBeNull()
    expect(where.panelsAt(() => false)).toEqual([])
  })

  it('has panels that can be told apart', () => {
    for (const panel of panels.values()) expect(PanelView.of(panel, [0])).not.toBeNull()
  })
})
