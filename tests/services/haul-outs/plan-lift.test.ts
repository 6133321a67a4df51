import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { NewHaulOut } from '../../../src/contract/haul-outs.js'
import type { AnodeRecord } from '../../../src/db/repositories/anodes.js'
import { nextName } from '../../../src/services/haul-outs/next-name.js'
import { planLift } from '../../../src/services/haul-outs/plan-lift.js'

const anode = (name: string, more: Partial<AnodeRecord> = {}): AnodeRecord => ({
  organisationId: 'o',
  id: `id of ${name}`,
  boatId: 'b',
  positionId: 'p',
  name,
  alloy: 'zinc',
  shape: 'shaft collar',
  fittedOn: '2030-06-01',
  removedOn: null,
  grossMassG: 1250,
  coreMassG: 80,
  lengthMm: null,
  widthMm: null,
  heightMm: null,
  bonded: null,
  version: 1,
  boat: 'Wren',
  position: 'shaft',
  ...more,
})
const DAY = '2031-06-10'
const plan = (weighings: object[], anodes: AnodeRecord[]) =>
  planLift(NewHaulOut.parse({ hauledOn: DAY, weighings }), { boat: 'Wren', anodes, weighings: [], today: '2031-06-15' })

describe('nextName', () => {
  it.each([
    ['shaft 2', ['shaft 1', 'shaft 2'], 'shaft 3'],
    ['shaft 1', ['shaft 1', 'shaft 4', 'hull 9'], 'shaft 5'],
    ['rudder', ['rudder'], 'rudder 2'],
    ['rudder', ['rudder', 'rudder 2'], 'rudder 3'],
    ['A-07', ['A-07'], 'A-8'],
    ['7', ['7'], '8'],
  ])('after %s among %j comes %s', (old, used, expected) => {
    expect(nextName(old, used)).toBe(expected)
  })

  it('is never a name in use', () => {
    const name = fc.oneof(fc.string({ minLength: 1, maxLength: 6 }), fc.stringMatching(/^[ab ]{0,2}\d{1,3}$/))
    fc.assert(
      fc.property(name, fc.array(name), (old, others) => {
        const used = [old, ...others]
        expect(used).not.toContain(nextName(old, used))
      }),
    )
  })
})

describe('planLift', () => {
  it('fits what replaces at the same position on the same day, unweighed if need be', () => {
    const { anodes, errors } = plan(
      [{ anode: 'shaft 1', replacedBy: { alloy: 'aluminium', grossMassG: 1100 } }],
      [anode('shaft 1')],
    )
    expect(errors).toEqual([])
    expect(anodes).toMatchObject([
      {
        weigh: null,
        fit: { name: 'shaft 2', positionId: 'p', fittedOn: DAY, removedOn: null, alloy: 'aluminium', grossMassG: 1100 },
      },
    ])
  })

  it('gives two replacements of one stem two names', () => {
    const weighings = [
      { anode: 'hull 1', replacedBy: {} },
      { anode: 'hull 2', replacedBy: {} },
    ]
    const { anodes } = plan(weighings, [anode('hull 1'), anode('hull 2', { positionId: 'q' })])
    expect(anodes.map((one) => one.fit?.name)).toEqual(['hull 3', 'hull 4'])
  })

  it('ends what is fitted late where the next already sits', () => {
    const known = [anode('shaft 1', { removedOn: DAY }), anode('shaft 3', { fittedOn: '2031-06-12' })]
    const { anodes, errors } = plan([{ anode: 'shaft 1', replacedBy: {} }], known)
    expect(errors).toEqual([])
    expect(anodes[0]?.fit).toMatchObject({ fittedOn: DAY, removedOn: '2031-06-12' })
  })

  it('refuses to replace what was gone before, or came after', () => {
    const known = [anode('gone', { removedOn: '2031-01-01' }), anode('new', { fittedOn: '2031-06-11' })]
    const { errors } = plan(
      [
        { anode: 'gone', replacedBy: {} },
        { anode: 'new', replacedBy: {} },
      ],
      known,
    )
    expect(errors.map((error) => error.pointer)).toEqual(['#/weighings/0/replacedBy', '#/weighings/1/replacedBy'])
  })

  it('takes the same replacement again for done, another for a clash', () => {
    const known = [anode('shaft 1', { removedOn: DAY }), anode('shaft 2', { fittedOn: DAY })]
    const again = plan([{ anode: 'shaft 1', replacedBy: { alloy: 'zinc', grossMassG: 1250 } }], known)
    expect([again.anodes[0]?.fit, again.errors, again.clashes]).toEqual([null, [], []])
    const other = plan([{ anode: 'shaft 1', replacedBy: { alloy: 'magnesium' } }], known)
    expect(other.clashes).toMatchObject([{ table: 'anodes', rowId: 'id of shaft 2' }])
  })
})
