import { describe, expect, it } from 'vitest'
import { diagnose } from '../../../src/engine/diagnosis/diagnose.js'
import { questionsOfBoat } from '../../../src/engine/diagnosis/evidence/questions-of-boat.js'
import type { PotentialReading } from '../../../src/engine/diagnosis/fleet-facts.js'
import { anomaly, keyOf, look, ONSET, type SmallFleet, smallFleet } from './small-fleet.js'

const SHAFT = keyOf('Tern', 'shaft')

const reading = (change: Partial<PotentialReading>): PotentialReading => ({
  on: ONSET,
  fitting: null,
  reference: 'ag-agcl-seawater',
  volts: -0.95,
  shorePower: null,
  circuits: null,
  ...change,
})

/** What Tern is asked about; nothing wears abnormally. */
function asked(draw: SmallFleet) {
  const { model, facts } = smallFleet(draw)
  const observed = model.boats.find(({ history }) => history.boat === 'Tern') ?? null
  return questionsOfBoat({ facts: facts.boats.find(({ boat }) => boat === 'Tern')!, observed }, facts.berths)
}
const ofTern = (change: object) => (boat: string) => (boat === 'Tern' ? change : {})

describe('questionsOfBoat', () => {
  it('asks nothing of a record that is of one mind', () => {
    expect(asked({})).toEqual([])
    const sound = [reading({}), reading({ fitting: 'seacock', volts: -0.9 })]
    const bonded = [{ on: ONSET, from: 'seacock', to: 'bond', ohms: 0.1 }]
    const weighed = look({ conditions: ['crusted'], dryMassG: 800, submergedMassG: 686, submergedIn: 'salt' })
    expect(
      asked({
        boat: ofTern({ potentials: sound, continuity: bonded }),
        looks: (key) => (key === SHAFT ? [weighed] : []),
      }),
    ).toEqual([])
  })

  it.each<[string, SmallFleet, object]>([
    [
      'a sign dropped',
      { boat: ofTern({ potentials: [reading({ fitting: 'seacock', volts: 0.95 })] }) },
      {
        kind: 'potential',
        about: 'seacock',
        on: ONSET,
        code: 'potential/sign',
        values: { fitting: 'seacock', volts: 0.95, electrode: 'ag-agcl-seawater' },
      },
    ],
    [
      'an unknown reference',
      { boat: ofTern({ potentials: [reading({ reference: null })] }) },
      {
        kind: 'potential',
        about: null,
        on: ONSET,
        code: 'potential/no-reference',
        values: { fitting: '', volts: -0.95 },
      },
    ],
    [
      'a drifting electrode',
      { boat: ofTern({ potentials: [reading({}), reading({ volts: -0.6 })] }) },
      {
        kind: 'potential',
        about: null,
        on: ONSET,
        code: 'potential/drifting',
        values: { fitting: '', readings: 2, spread: expect.closeTo(0.35, 9) },
      },
    ],
    [
      'a part that nobody has on a list',
      { boat: ofTern({ continuity: [{ on: ONSET, from: 'trim tab', to: 'bond', ohms: 3 }] }) },
      {
        kind: 'continuity',
        about: 'trim tab to bond',
        on: ONSET,
        code: 'continuity/on-no-list',
        values: { ohms: 3, part: 'trim tab' },
      },
    ],
    [
      'a resistance below nothing',
      { boat: ofTern({ continuity: [{ on: ONSET, from: 'seacock', to: 'bond', ohms: -2 }] }) },
      {
        kind: 'continuity',
        about: 'seacock to bond',
        on: ONSET,
        code: 'continuity/cannot-be',
        values: { ohms: '-2', from: 'seacock', to: 'bond' },
      },
    ],
    [
      'codes that exclude each other',
      { looks: (key) => (key === SHAFT ? [look({ conditions: ['even', 'broken'] })] : []) },
      {
        kind: 'look',
        about: 'shaft 1',
        on: ONSET + 365,
        code: 'look/conflict',
        values: { anode: 'shaft 1', one: 'even', other: 'broken' },
      },
    ],
    [
      'more under water than in air',
      { looks: (key) => (key === SHAFT ? [look({ dryMassG: 500, submergedMassG: 620 })] : []) },
      {
        kind: 'density',
        about: 'shaft 1',
        on: ONSET + 365,
        code: 'density/not-below',
        values: { anode: 'shaft 1', submergedG: 620, dryG: 500 },
      },
    ],
    [
      'a berth whose water and salinity contradict each other',
      { berth: { water: 'fresh', salinityPsu: 34 } },
      {
        kind: 'water',
        about: 'A1',
        on: null,
        code: 'water/contradiction',
        values: { berth: 'A1', water: 'fresh', salinityPsu: 34 },
      },
    ],
  ])('asks about %s once, though nothing wears abnormally', (_, draw, question) => {
    expect(asked(draw)).toEqual([question])
  })

  it('asks what a diagnosis of the boat would ask, which names the boat', () => {
    const draw: SmallFleet = {
      factor: (boat) => (boat === 'Tern' ? 2.5 : 1),
      boat: ofTern({ potentials: [reading({ volts: 0.95 })] }),
      looks: (key) => (key === SHAFT ? [look({ conditions: ['bright', 'crusted'] })] : []),
    }
    const { model, facts } = smallFleet(draw)
    const found = anomaly({ scope: 'boat', direction: 'fast', anodes: [SHAFT] })
    const { questions } = diagnose(found, model, facts, [])
    const sorted = (all: readonly object[]) => all.map((each) => JSON.stringify(each)).sort()
    expect(sorted(questions)).toEqual(sorted(asked(draw).map(({ code, values }) => ({ boat: 'Tern', code, values }))))
  })

  it('tells the newest first, what has no day last, and nothing twice', () => {
    const potentials = [
      reading({ on: 10, volts: 0.95 }),
      reading({ on: 30, volts: 0.95 }),
      reading({ on: 30, volts: 0.95 }),
      reading({ on: 20, volts: 0.95 }),
    ]
    const questions = asked({ boat: ofTern({ potentials }), berth: { water: 'salt', salinityPsu: 1 } })
    expect(questions.map(({ on }) => on)).toEqual([30, 20, 10, null])
  })

  it('asks the same whatever the order of the record', () => {
    const potentials = [reading({ on: 10, volts: 0.95 }), reading({ on: 30, reference: null }), reading({ on: 20 })]
    const one = asked({ boat: ofTern({ potentials }) })
    expect(asked({ boat: ofTern({ potentials: [...potentials].reverse() }) })).toEqual(one)
  })

  it('asks of a boat whose masses nobody knows', () => {
    const { facts } = smallFleet({ boat: ofTern({ potentials: [reading({ volts: 0.95 })] }) })
    const tern = facts.boats.find(({ boat }) => boat === 'Tern')!
    expect(questionsOfBoat({ facts: tern, observed: null }, [])).toHaveLength(1)
  })
})
