import { describe, expect, it } from 'vitest'
import type { LiftPlanAnswer } from '../../src/contract/desk-plan.js'
import { chosenLifts, liftKey } from '../../src/web/pages/desk/plan-choice.js'

const boatOf = (boat: string) => ({ boat, berth: null, latest: null, risk: 0.05, replace: [] })
const plan: Pick<LiftPlanAnswer, 'days'> = {
  days: [
    { on: '2031-04-07', places: 2, boats: [boatOf('Wren'), boatOf('Tern')] },
    { on: '2031-10-06', places: 2, boats: [boatOf('Wren')] },
  ],
}

describe('the lifts that go into the calendar', () => {
  it('are those of the plan where nothing was changed', () => {
    expect(chosenLifts(plan, {})).toEqual([
      { boat: 'Wren', on: '2031-04-07' },
      { boat: 'Tern', on: '2031-04-07' },
      { boat: 'Wren', on: '2031-10-06' },
    ])
  })

  it('follow a moved day and lack who was left out, of that day alone', () => {
    const edits = {
      [liftKey('Wren', '2031-04-07')]: { isLeftOut: true },
      [liftKey('Tern', '2031-04-07')]: { on: '2031-04-14' },
    }
    expect(chosenLifts(plan, edits)).toEqual([
      { boat: 'Tern', on: '2031-04-14' },
      { boat: 'Wren', on: '2031-10-06' },
    ])
  })

  it('hold a boat once a day, and not one whose day was emptied', () => {
    const edits = {
      [liftKey('Wren', '2031-04-07')]: { on: '2031-10-06' },
      [liftKey('Tern', '2031-04-07')]: { on: '' },
    }
    expect(chosenLifts(plan, edits)).toEqual([{ boat: 'Wren', on: '2031-10-06' }])
  })
})
