import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { judgedLosses } from '../../../../src/engine/diagnosis/detection/judged-losses.js'
import { successions, wearGroups } from '../../../../src/engine/diagnosis/detection/wear-groups.js'
import { fitRates } from '../../../../src/engine/rates/fit-rates.js'
import type { ObservedAnode } from '../../../../src/engine/rates/mass-states.js'
import { simulateFleet, Uniform } from '../../simulated-fleet.js'
import { observedAnode } from './observed-anode.js'

const lived = (key: string, position: string, fittedOn: number, removedOn: number | null): ObservedAnode =>
  observedAnode({ key, position, fittedOn, removedOn })

const sorted = (places: readonly (readonly string[])[]) => places.map((keys) => keys.join(' ')).sort()

describe('successions', () => {
  it('lets an anode that was fitted when another came off follow it', () => {
    const anodes = [
      lived('shaft 1', 'shaft', 0, 400),
      lived('shaft 2', 'shaft', 400, 800),
      lived('hull 1', 'hull', 0, 400),
    ]
    expect(sorted(successions(anodes))).toEqual(['hull 1', 'shaft 1 shaft 2'])
  })

  it('keeps anodes apart that were in place together', () => {
    const anodes = [
      lived('hull 1', 'hull', 0, null),
      lived('hull 2', 'hull', 0, 400),
      lived('hull 3', 'hull', 410, null),
    ]
    expect(sorted(successions(anodes))).toEqual(['hull 1', 'hull 2 hull 3'])
  })

  it('gives the room to the one that was taken off last', () => {
    const anodes = [
      lived('hull 1', 'hull', 0, 300),
      lived('hull 2', 'hull', 0, 500),
      lived('hull 3', 'hull', 500, null),
    ]
    expect(sorted(successions(anodes))).toEqual(['hull 1', 'hull 2 hull 3'])
  })

  const life = fc.record({
    position: fc.constantFrom('shaft', 'hull'),
    from: fc.integer({ min: 0, max: 2000 }),
    days: fc.option(fc.integer({ min: 1, max: 900 })),
  })
  const boat = fc
    .array(life, { maxLength: 12 })
    .map((lives) =>
      lives.map(({ position, from, days }, at) => lived(`a${at}`, position, from, days === null ? null : from + days)),
    )

  it('has every anode once, one after the other at one position, whatever the order they are told in', () => {
    fc.assert(
      fc.property(boat, (anodes) => {
        const places = successions(anodes)
        expect(places.flat().sort()).toEqual(anodes.map(({ history }) => history.key).sort())
        expect(sorted(successions([...anodes].reverse()))).toEqual(sorted(places))
        const histories = new Map(anodes.map(({ history }) => [history.key, history]))
        for (const keys of places)
          keys.slice(1).forEach((key, at) => {
            const [before, after] = [histories.get(keys[at]!)!, histories.get(key)!]
            expect(after.position).toBe(before.position)
            expect(after.fittedOn!).toBeGreaterThanOrEqual(before.removedOn!)
          })
      }),
    )
  })

  it('makes no place more than were needed at once', () => {
    fc.assert(
      fc.property(boat, (anodes) => {
        const atOnce = (position: string) =>
          Math.max(
            0,
            ...anodes.map(({ history: { fittedOn } }) => {
              const there = anodes.filter(
                ({ history }) =>
                  history.position === position &&
                  history.fittedOn! <= fittedOn! &&
                  (history.removedOn ?? Infinity) > fittedOn!,
              )
              return there.length
            }),
          )
        expect(successions(anodes)).toHaveLength(atOnce('shaft') + atOnce('hull'))
      }),
    )
  })
})

describe('wearGroups', () => {
  const { fleet, asOf } = simulateFleet(new Uniform(5), 6, 4, {
    boat: 0.3,
    berth: 0.2,
    anode: 0.15,
    residual: 0.2,
    scaleG: 2,
  })
  const model = fitRates(fleet, asOf)
  const losses = judgedLosses(model)
  const groups = wearGroups(model, losses)

  it('has every loss once by place and, where a boat has several places, once by boat', () => {
    const of = (scope: string) => groups.filter((group) => group.scope === scope).flatMap((group) => group.losses)
    expect(new Set(of('anode'))).toEqual(new Set(losses))
    expect(of('anode')).toHaveLength(losses.length)
    expect(new Set(of('boat'))).toEqual(new Set(losses))
    expect(of('boat')).toHaveLength(losses.length)
  })

  it('keeps each group to one boat, in order of time', () => {
    for (const { boat, losses: own } of groups) {
      expect(new Set(own.map((loss) => loss.boat))).toEqual(new Set([boat]))
      const ends = own.map(({ to }) => to)
      expect(ends).toEqual([...ends].sort((a, b) => a - b))
    }
  })

  it('says the same whatever the order of the losses and of the boats', () => {
    const turned = wearGroups({ ...model, boats: [...model.boats].reverse() }, [...losses].reverse())
    expect(turned).toEqual(groups)
  })

  it('has no boat of a single place twice', () => {
    const single = model.boats.map((boat) => ({
      ...boat,
      anodes: boat.anodes.filter(({ history }) => history.position === 'shaft'),
    }))
    const own = wearGroups({ ...model, boats: single }, losses)
    expect(own.map(({ scope }) => scope)).toEqual(single.map(() => 'anode'))
  })
})
