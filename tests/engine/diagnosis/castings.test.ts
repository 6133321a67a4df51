import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { castingsOf } from '../../../src/engine/diagnosis/evidence/castings.js'
import type { ObservedAnode } from '../../../src/engine/rates/mass-states.js'
import { observedAnode } from './detection/observed-anode.js'

const YEAR = 365
// `anode-alloys`: zinc 7.14 g/cm³, aluminium 2.7 g/cm³, each ± a few percent.
const ALUMINIUM_OVER_ZINC = 2.7 / 7.14

function casting(place: string, year: number, netMassG: number, alloy: 'zinc' | 'aluminium' = 'zinc'): ObservedAnode {
  const anode = observedAnode({ key: `${place} ${year}`, position: place, fittedOn: year * YEAR, netMassG })
  const named = { ...anode.history, anode: `${place} ${year}`, alloy }
  return { ...anode, history: named, fitted: { ...anode.fitted, alloy } }
}

describe('castingsOf', () => {
  it('takes a zinc that weighs as aluminium in the mould for another alloy, by the ratio of the densities', () => {
    const told = castingsOf([casting('shaft', 0, 1000), casting('shaft', 1, 1000 * ALUMINIUM_OVER_ZINC)])
    expect(told.get('shaft 1')).toMatchObject({ weighsAs: 'another', isTogether: false })
    expect(told.get('shaft 0')).toMatchObject({ weighsAs: 'declared' })
  })

  it('says which side of a jump is wrong: nothing is as much lighter than aluminium', () => {
    const told = castingsOf([
      casting('shaft', 0, 1000 * ALUMINIUM_OVER_ZINC, 'aluminium'),
      casting('shaft', 1, 1000, 'aluminium'),
      casting('shaft', 2, 990, 'aluminium'),
    ])
    expect(told.get('shaft 0')?.weighsAs).toBe('declared')
    expect(told.get('shaft 1')?.weighsAs).toBe('another')
    expect(told.get('shaft 2')?.weighsAs).toBe('another')
  })

  it('takes a set that was fitted at one lift together, but not where the rest of it weighs as declared', () => {
    const before = ['shaft', 'rudder', 'hull'].map((place) => casting(place, 0, 1000))
    const light = (place: string) => casting(place, 1, 1000 * ALUMINIUM_OVER_ZINC)
    const set = castingsOf([...before, light('shaft'), light('rudder'), casting('hull', 1, 1010)])
    expect(set.get('shaft 1')?.isTogether).toBe(true)
    const one = castingsOf([...before, light('shaft'), casting('rudder', 1, 1000), casting('hull', 1, 1010)])
    expect(one.get('shaft 1')?.isTogether).toBe(false)
  })

  it('leaves out sizes that no alloy gives, and anodes without another at their place', () => {
    const told = castingsOf([casting('shaft', 0, 1000), casting('shaft', 1, 600), casting('rudder', 0, 500)])
    expect(told.size).toBe(0)
  })

  it('says the same in whatever order the anodes come, and whatever the unit of mass', () => {
    const masses = fc.array(fc.double({ min: 100, max: 5000, noNaN: true }), { minLength: 2, maxLength: 6 })
    fc.assert(
      fc.property(masses, fc.double({ min: 0.5, max: 2, noNaN: true }), (own, unit) => {
        const states = (scale: number, turn: boolean) => {
          const anodes = own.map((mass, year) => casting('shaft', year, mass * scale))
          const told = castingsOf(turn ? anodes.reverse() : anodes)
          return told.size
        }
        expect(states(1, true)).toBe(states(1, false))
        expect(states(unit, false)).toBe(states(1, false))
      }),
    )
  })
})
