import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { LiftQuestion, PlannableBoat } from '../../../src/engine/planning/lift-question.js'
import { planLifts } from '../../../src/engine/planning/plan-lifts.js'

/** Wears evenly: due for certain after so many days, half likely after half of them. */
const evenAnode = (key: string, lasts: number, fittedOn: number) => ({
  key,
  riskBy: (day: number, renewedOn: number | null) => Math.min(1, Math.max(0, (day - (renewedOn ?? fittedOn)) / lasts)),
})

const boatOf = (boat: string, ...lives: readonly [lasts: number, fittedOn: number][]): PlannableBoat => ({
  boat,
  anodes: lives.map(([lasts, fittedOn], index) => evenAnode(`${boat} ${index + 1}`, lasts, fittedOn)),
})

const question = (days: readonly number[], places: number | null, until: number): LiftQuestion => ({
  asOf: 0,
  days: days.map((on) => ({ on, places })),
  until,
  risk: 0.5,
})

const anyBoat = fc.array(fc.tuple(fc.integer({ min: 10, max: 200 }), fc.integer({ min: -80, max: 0 })), {
  minLength: 1,
  maxLength: 3,
})
const anyDays = fc
  .uniqueArray(fc.integer({ min: 1, max: 100 }), { minLength: 1, maxLength: 5 })
  .map((days) => days.sort((a, b) => a - b))

/** The largest risk on every day of a boat that is lifted on some days, all renewed each time. */
function keepsRisk({ anodes }: PlannableBoat, lifts: readonly number[], { until, risk }: LiftQuestion): boolean {
  return [...lifts, until].every((day, at) => anodes.every(({ riskBy }) => riskBy(day, lifts[at - 1] ?? null) <= risk))
}

const subsets = <T>(all: readonly T[]): T[][] =>
  all.reduce<T[][]>((found, each) => found.concat(found.map((some) => some.concat(each))), [[]])

describe('the plan of lifts', () => {
  it('lifts each boat as late as it may, and leaves those alone that hold', () => {
    // Half likely due after 50 days, 40 days and 90 days.
    const boats = [boatOf('A', [100, 0]), boatOf('B', [200, -60], [180, 0]), boatOf('C', [180, 0])]
    const { lifts, unlifted, unheld } = planLifts(boats, question([10, 30, 45, 60], null, 85))
    expect(lifts).toEqual([
      { boat: 'B', on: 30, latest: 30, replace: ['B 1'], risk: 0.45 },
      { boat: 'A', on: 45, latest: 45, replace: ['A 1'], risk: 0.45 },
    ])
    expect(unlifted).toEqual(['C'])
    expect(unheld).toEqual([])
  })

  it('needs the fewest lifts of all plans that keep the risk, whatever the days', () => {
    fc.assert(
      fc.property(anyBoat, anyDays, fc.integer({ min: 0, max: 80 }), (lives, days, beyond) => {
        const asked = question(days, null, days.at(-1)! + beyond)
        const boat = boatOf('A', ...lives)
        const kept = subsets(days).filter((some) => keepsRisk(boat, some, asked))
        const { lifts, unheld } = planLifts([boat], asked)
        expect(unheld.length === 0).toBe(kept.length > 0)
        if (kept.length > 0) expect(lifts.length).toBe(Math.min(...kept.map((some) => some.length)))
      }),
    )
  })

  it('keeps the risk of every anode to the end, though it replaces only what would pass it', () => {
    fc.assert(
      fc.property(
        fc.array(anyBoat, { maxLength: 6 }),
        anyDays,
        fc.integer({ min: 1, max: 3 }),
        (fleet, days, places) => {
          const asked = question(days, places, days.at(-1)! + 20)
          const boats = fleet.map((lives, index) => boatOf(`B${index}`, ...lives))
          const { lifts, unheld } = planLifts(boats, asked)
          for (const boat of boats.filter((each) => !unheld.some(({ boat: name }) => name === each.boat))) {
            const own = lifts.filter((lift) => lift.boat === boat.boat)
            for (const { key, riskBy } of boat.anodes) {
              const renewed = own.filter(({ replace }) => replace.includes(key)).map(({ on }) => on)
              const ends = [...renewed, asked.until]
              const risks = ends.map((end, at) => riskBy(end, renewed[at - 1] ?? null))
              expect(Math.max(...risks)).toBeLessThanOrEqual(asked.risk)
            }
          }
        },
      ),
    )
  })

  it('under few places keeps the risk for as many boats as any order of them could, and as late as any', () => {
    const lives = fc.array(fc.integer({ min: 20, max: 200 }), { minLength: 1, maxLength: 5 })
    fc.assert(
      fc.property(
        lives,
        anyDays.filter(({ length }) => length <= 3),
        fc.integer({ min: 1, max: 2 }),
        (lasts, days, places) => {
          // A new anode lasts to the end, so that nobody needs a second lift.
          const boats = lasts.map((each, index) => ({
            boat: `B${index}`,
            anodes: [
              { key: `B${index} 1`, riskBy: (day: number, on: number | null) => (on === null ? day / each : 0) },
            ],
          }))
          const asked = question(days, places, 110)
          const { lifts, unheld, unlifted } = planLifts(boats, asked)
          const late = new Set(unheld.map(({ boat }) => boat))
          const held = lifts.filter(({ boat }) => !late.has(boat))
          const best = bestPlan(
            boats.filter(({ boat }) => !unlifted.includes(boat)),
            asked,
          )
          expect({ held: held.length, sum: held.reduce((sum, { on }) => sum + on, 0) }).toEqual(best)
        },
      ),
    )
  })

  it('drops no boat, gives no day more boats than it has places, and no boat a day twice', () => {
    fc.assert(
      fc.property(
        fc.array(anyBoat, { maxLength: 8 }),
        anyDays,
        fc.integer({ min: 0, max: 3 }),
        (fleet, days, places) => {
          const boats = fleet.map((each, index) => boatOf(`B${index}`, ...each))
          const { lifts, unheld, unlifted } = planLifts(boats, question(days, places, days.at(-1)! + 30))
          const told = new Set([...lifts, ...unheld].map(({ boat }) => boat))
          for (const name of unlifted) told.add(name)
          expect([...told].sort()).toEqual(boats.map(({ boat }) => boat).sort())
          for (const day of days) expect(lifts.filter(({ on }) => on === day).length).toBeLessThanOrEqual(places)
          expect(new Set(lifts.map(({ boat, on }) => `${boat} ${on}`)).size).toBe(lifts.length)
        },
      ),
    )
  })

  it('says of each boat that cannot be held why, until when it is, and where it still finds a place', () => {
    // Half likely due after 10 days, and after 70; a lift on day 30 keeps the latter until the end.
    const boats = [boatOf('Late', [20, 0]), boatOf('Tight', [140, 0]), boatOf('Twin', [140, 0])]
    const { unheld, lifts } = planLifts(boats, question([30, 90], 1, 95))
    expect(unheld).toEqual([
      { boat: 'Late', reason: 'before-first-day', anode: 'Late 1', heldUntil: 10, risk: 1, liftedOn: 90 },
      { boat: 'Twin', reason: 'no-place', anode: 'Twin 1', heldUntil: 70, risk: 95 / 140, liftedOn: null },
    ])
    expect(lifts.map(({ boat, on, latest }) => [boat, on, latest])).toEqual([
      ['Tight', 30, 30],
      ['Late', 90, null],
    ])
    // A new one is half likely due 40 days after the lift on day 30, and the next day is 60 days off.
    expect(planLifts([boatOf('Thirsty', [80, 0])], question([30, 90], null, 95)).unheld).toEqual([
      { boat: 'Thirsty', reason: 'between-days', anode: 'Thirsty 1', heldUntil: 70, risk: 0.75, liftedOn: 90 },
    ])
  })
})

/** Of all ways to give these boats a suitable day or none: the most boats, and among these plans the largest sum of days. */
function bestPlan(boats: readonly PlannableBoat[], { days, risk }: LiftQuestion): { held: number; sum: number } {
  const places = days.map((day) => day.places ?? Infinity)
  const choose = (index: number): { held: number; sum: number } => {
    const boat = boats[index]
    if (boat === undefined) return { held: 0, sum: 0 }
    const plans = [choose(index + 1)]
    days.forEach(({ on }, day) => {
      if (places[day]! < 1 || boat.anodes.some(({ riskBy }) => riskBy(on, null) > risk)) return
      places[day]!--
      const rest = choose(index + 1)
      places[day]!++
      plans.push({ held: rest.held + 1, sum: rest.sum + on })
    })
    return plans.reduce((best, plan) =>
      plan.held > best.held || (plan.held === best.held && plan.sum > best.sum) ? plan : best,
    )
  }
  return choose(0)
}
