import { beforeAll, describe, expect, it } from 'vitest'
import { diagnose } from '../../../src/engine/diagnosis/diagnose.js'
import { diagnoseAnomalies } from '../../../src/engine/diagnosis/diagnose-anomalies.js'
import type { Diagnosis } from '../../../src/engine/diagnosis/diagnosis.js'
import type { BoatFacts, PotentialReading } from '../../../src/engine/diagnosis/fleet-facts.js'
import { anomaly, keyOf, look, ONSET, type SmallFleet, smallFleet } from './small-fleet.js'

const POSITIONS = ['shaft', 'hull', 'rudder']
const ALL = POSITIONS.map((position) => keyOf('Tern', position))
const SHAFT = keyOf('Tern', 'shaft')

const reading = (change: Partial<PotentialReading>): PotentialReading => ({
  on: ONSET + 200,
  fitting: null,
  reference: 'ag-agcl-seawater',
  volts: -0.93,
  shorePower: null,
  circuits: null,
  ...change,
})

const ofTern =
  (change: Partial<BoatFacts>): NonNullable<SmallFleet['boat']> =>
  (boat) =>
    boat === 'Tern' ? change : {}

function diagnosisOf(fleet: SmallFleet, found: Parameters<typeof anomaly>[0]): Diagnosis {
  const { model, facts } = smallFleet(fleet)
  return diagnose(anomaly(found), model, facts, [])
}

const top = ({ causes }: Diagnosis) => causes[0]!.cause
const probabilityOf = ({ causes }: Diagnosis, wanted: string) =>
  causes.find(({ cause }) => cause === wanted)!.probability
const seen = ({ causes }: Diagnosis) => causes[0]!.evidence.map(({ observation }) => observation)

describe('diagnose', () => {
  it('names a leak on board where all anodes of one boat go fast and the potential follows its circuits', () => {
    const diagnosis = diagnosisOf(
      {
        factor: (boat) => (boat === 'Tern' ? 2.5 : 1),
        boat: ofTern({
          hasIsolator: true,
          potentials: [reading({ circuits: 'off' }), reading({ circuits: 'on', volts: -0.8 })],
        }),
        looks: (key) => (ALL.includes(key) ? [look({ conditions: ['bright', 'sharp-edged'] })] : []),
      },
      { scope: 'boat', direction: 'fast', anodes: ALL },
    )
    expect(top(diagnosis)).toBe('stray-current-onboard')
    expect(diagnosis.causes[0]!.probability).toBeGreaterThan(0.9)
    expect(diagnosis.safety.join(' ')).toMatch(/qualified marine electrician/i)
  })

  it('names current through the shore earth where the pontoon goes fast, no isolator, and the potential follows the lead', () => {
    const diagnosis = diagnosisOf(
      {
        factor: () => 2.2,
        boat: () => ({
          hasIsolator: false,
          stays: [{ from: 0, to: null, berth: 'A1', hoursPerDay: 20 }],
          potentials: [reading({ shorePower: 'disconnected' }), reading({ shorePower: 'connected', volts: -0.84 })],
        }),
      },
      { scope: 'boat', direction: 'fast', anodes: ALL },
    )
    expect(top(diagnosis)).toBe('stray-current-shore')
    expect(diagnosis.safety.join(' ')).toMatch(/Never cut the shore earth/)
  })

  it('names an open joint where one anode hardly wastes, its neighbours do, and the meter shows ohms', () => {
    const diagnosis = diagnosisOf(
      {
        factor: (boat, position) => (boat === 'Tern' && position === 'shaft' ? 0.04 : 1),
        boat: ofTern({ continuity: [{ on: ONSET + 365, from: 'shaft 1', to: 'bond', ohms: 14 }] }),
      },
      { scope: 'anode', direction: 'slow', anodes: [SHAFT] },
    )
    expect(top(diagnosis)).toBe('no-electrical-contact')
    expect(seen(diagnosis)).toContain('sisters')
  })

  it('names another alloy where density in water and air says so', () => {
    // Aluminium hung in fresh water: (540 − 80)/2.75 + 80/7.86 cm³ displace 177.3 g (Archimedes).
    const diagnosis = diagnosisOf(
      {
        factor: (boat, position) => (boat === 'Tern' && position === 'shaft' ? 0.4 : 1),
        looks: (key) => (key === SHAFT ? [look({ dryMassG: 540, submergedMassG: 362.7, submergedIn: 'fresh' })] : []),
      },
      { scope: 'anode', direction: 'slow', anodes: [SHAFT], onset: null, logRatio: { mean: -0.9, sd: 0.2 } },
    )
    expect(top(diagnosis)).toBe('alloy-not-as-declared')
    expect(diagnosis.causes[0]!.evidence.find(({ observation }) => observation === 'density')).toMatchObject({
      code: 'density/another',
      values: { declared: 'zinc', alloy: 'aluminium' },
    })
  })

  it('tells passivation from an open joint by the crust and the good contact', () => {
    const diagnosis = diagnosisOf(
      {
        factor: (boat, position) => (boat === 'Tern' && position === 'shaft' ? 0.25 : 1),
        berth: { water: 'brackish', salinityPsu: 8 },
        boat: ofTern({ continuity: [{ on: ONSET + 365, from: 'bond', to: 'Shaft 1', ohms: 0.04 }] }),
        looks: (key) => (key === SHAFT ? [look({ conditions: ['crusted'] })] : []),
      },
      { scope: 'anode', direction: 'slow', anodes: [SHAFT], logRatio: { mean: -1.4, sd: 0.2 } },
    )
    expect(top(diagnosis)).toBe('passivated')
  })

  it('names an alloy unsuited to its water, mixed alloys, a break and a place', () => {
    const wrong = diagnosisOf(
      { factor: (boat) => (boat === 'Tern' ? 0.3 : 1), berth: { water: 'fresh', salinityPsu: 0.1 } },
      { scope: 'boat', direction: 'slow', anodes: ALL, onset: null, logRatio: { mean: -1.2, sd: 0.2 } },
    )
    expect(top(wrong)).toBe('wrong-alloy-for-water')

    const mixed = diagnosisOf(
      { factor: (boat, position) => (boat === 'Tern' && position === 'shaft' ? 1.8 : 1), alloyOf: aluminiumShaft },
      { scope: 'anode', direction: 'fast', anodes: [SHAFT], onset: null, logRatio: { mean: 0.6, sd: 0.2 } },
    )
    expect(top(mixed)).toBe('mixed-alloys')

    const broken = diagnosisOf(
      {
        factor: (boat, position) => (boat === 'Tern' && position === 'shaft' ? 2 : 1),
        looks: (key) => (key === SHAFT ? [look({ conditions: ['broken'] })] : []),
      },
      { scope: 'anode', direction: 'fast', anodes: [SHAFT] },
    )
    expect(top(broken)).toBe('mechanical-loss')

    const place = diagnosisOf(
      {
        factor: () => 1.6,
        boat: () => ({ hasIsolator: true, stays: [{ from: 0, to: null, berth: 'A1', hoursPerDay: 0 }] }),
      },
      { scope: 'pontoon', direction: 'fast', anodes: ALL, onset: null, logRatio: { mean: 0.5, sd: 0.1 } },
    )
    expect(top(place)).toBe('berth-environment')
  })
})

const aluminiumShaft: NonNullable<SmallFleet['alloyOf']> = (boat, position) =>
  boat === 'Tern' && position === 'shaft' ? 'aluminium' : 'zinc'

describe('the order of what is known', () => {
  it('changes nothing', () => {
    const { model, facts } = smallFleet({
      factor: (boat) => (boat === 'Tern' ? 2.5 : 1),
      boat: ofTern({
        potentials: [
          reading({ circuits: 'off' }),
          reading({ circuits: 'on', volts: -0.8 }),
          reading({ circuits: 'on', volts: -0.82 }),
          reading({ fitting: 'propeller shaft', volts: -0.5 }),
        ],
        continuity: POSITIONS.map((position, index) => ({
          on: ONSET + 300,
          from: `${position} 1`,
          to: 'bond',
          ohms: 0.04 + index,
        })),
      }),
      looks: (key) =>
        ALL.includes(key) ? [look({ conditions: ['bright'] }), look({ on: ONSET + 700, conditions: ['crusted'] })] : [],
    })
    const turned = {
      berths: [...facts.berths].reverse(),
      boats: [...facts.boats].reverse().map((boat) => ({
        ...boat,
        fittings: [...boat.fittings].reverse(),
        potentials: [...boat.potentials].reverse(),
        continuity: [...boat.continuity].reverse(),
        anodes: [...boat.anodes].reverse().map((anode) => ({ ...anode, looks: [...anode.looks].reverse() })),
      })),
    }
    const found = { scope: 'boat', direction: 'fast' } as const
    const one = diagnose(anomaly({ ...found, anodes: ALL }), model, facts, [])
    const other = diagnose(anomaly({ ...found, anodes: [...ALL].reverse() }), model, turned, [])
    for (const { cause, probability } of one.causes) expect(probabilityOf(other, cause)).toBeCloseTo(probability, 12)
    expect(other.nextCheck?.check).toBe(one.nextCheck?.check)
  })
})

describe('a recorded check', () => {
  const fleet = { factor: (boat: string) => (boat === 'Tern' ? 2.5 : 1) }
  const found = anomaly({ scope: 'boat', direction: 'fast', anodes: ALL })
  let small: ReturnType<typeof smallFleet>
  beforeAll(() => {
    small = smallFleet(fleet)
  })

  it('moves the probabilities to what was foretold of its outcome, and is not proposed again', () => {
    const before = diagnose(found, small.model, small.facts, [])
    const check = before.nextCheck!
    expect(check.outcomes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 9)
    for (const { outcome, would } of check.outcomes) {
      const after = diagnose(found, small.model, small.facts, [{ check: check.check, outcome, on: ONSET + 500 }])
      expect(after.nextCheck?.check).not.toBe(check.check)
      for (const { cause, probability } of would) expect(probabilityOf(after, cause)).toBeCloseTo(probability, 9)
    }
  })

  it('counts nothing where its outcome is none of the table’s, and is still not proposed again', () => {
    const before = diagnose(found, small.model, small.facts, [])
    const made = { check: before.nextCheck!.check, outcome: 'not possible', on: ONSET + 500 }
    const after = diagnose(found, small.model, small.facts, [made])
    expect(after.causes).toEqual(before.causes)
    expect(after.nextCheck?.check).not.toBe(made.check)
  })

  it('of two of one kind, the later counts', () => {
    const twice = [
      { check: 'switch-circuits-off', outcome: 'clear', on: ONSET + 600 },
      { check: 'switch-circuits-off', outcome: 'none', on: ONSET + 500 },
    ]
    const once = twice.slice(0, 1)
    expect(diagnose(found, small.model, small.facts, twice).causes).toEqual(
      diagnose(found, small.model, small.facts, once).causes,
    )
  })
})

describe('bad input', () => {
  const askedOf = ({ questions }: Diagnosis) => questions.map(({ code }) => code)
  const fleet = (change: SmallFleet): SmallFleet => ({ factor: (boat) => (boat === 'Tern' ? 2.5 : 1), ...change })
  const found = { scope: 'boat', direction: 'fast', anodes: ALL } as const
  const clean = () => diagnosisOf(fleet({}), found)

  it.each<[string, string, PotentialReading[]]>([
    [
      'a sign dropped',
      'potential/sign',
      [reading({ volts: 0.95, circuits: 'on' }), reading({ volts: -0.93, circuits: 'off' })],
    ],
    ['an unknown reference', 'potential/no-reference', [reading({ reference: null, circuits: 'on' })]],
    ['the wrong reference', 'potential/below-any', [reading({ reference: 'zinc', volts: -0.95 })]],
    [
      'a drifting electrode',
      'potential/drifting',
      [-0.6, -0.72, -0.81, -0.88].map((volts) => reading({ volts, circuits: 'on' })),
    ],
  ])('asks about %s and counts none of it', (_, code, potentials) => {
    const diagnosis = diagnosisOf(fleet({ boat: ofTern({ potentials }) }), found)
    expect(askedOf(diagnosis)).toContain(code)
    expect(seen(diagnosis)).not.toContain('circuit-shift')
    const wrong = diagnosis.causes.filter(({ cause, probability }) => probability > probabilityOf(clean(), cause) + 0.2)
    expect(wrong).toEqual([])
  })

  it.each<[string, string, Parameters<typeof look>[0]]>([
    ['more under water than in air', 'density/not-below', { dryMassG: 500, submergedMassG: 620, submergedIn: 'salt' }],
    ['a density of no alloy', 'density/no-alloy', { dryMassG: 500, submergedMassG: 390, submergedIn: 'fresh' }],
    ['`even` with `broken`', 'look/conflict', { conditions: ['even', 'broken'] }],
    ['`bright` with `crusted`', 'look/conflict', { conditions: ['bright', 'crusted'] }],
  ])('asks about %s and counts none of it', (_, code, change) => {
    const diagnosis = diagnosisOf(fleet({ looks: (key) => (key === SHAFT ? [look(change)] : []) }), found)
    expect(askedOf(diagnosis)).toContain(code)
    expect(diagnosis.causes.map(({ cause, probability }) => [cause, probability])).toEqual(
      clean().causes.map(({ cause, probability }) => [cause, probability]),
    )
  })

  it('asks about a bond that nobody recorded, measured or presumed', () => {
    const measured = diagnosisOf(
      fleet({ boat: ofTern({ continuity: [{ on: ONSET + 365, from: 'trim tab', to: 'bond', ohms: 30 }] }) }),
      found,
    )
    expect(measured.questions).toContainEqual({
      boat: 'Tern',
      code: 'continuity/on-no-list',
      values: { ohms: 30, part: 'trim tab' },
    })
    expect(seen(measured)).not.toContain('contact-resistance')

    const presumed = diagnosisOf(fleet({ bonded: null, alloyOf: aluminiumShaft }), {
      scope: 'anode',
      direction: 'fast',
      anodes: [SHAFT],
      onset: null,
    })
    expect(askedOf(presumed)).toContain('bond/unknown')
    expect(probabilityOf(presumed, 'mixed-alloys')).toBeLessThan(0.5)
  })

  it('asks about a berth whose water and salinity contradict each other', () => {
    const diagnosis = diagnosisOf(fleet({ berth: { water: 'fresh', salinityPsu: 34 } }), found)
    expect(askedOf(diagnosis)).toContain('water/contradiction')
    expect(seen(diagnosis)).not.toContain('alloy-in-water')
  })

  it('says something of an anomaly of a boat that nothing is known of', () => {
    const { model } = smallFleet()
    const diagnosis = diagnose(anomaly({ ...found, boat: 'Tern' }), model, { berths: [], boats: [] }, [])
    expect(diagnosis.causes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 12)
    expect(diagnosis.nextCheck).not.toBeNull()
  })
})

describe('findings of readings alone', () => {
  const readingsOf = (fleet: SmallFleet, inRates: Parameters<typeof diagnoseAnomalies>[2] = []) => {
    const { model, facts } = smallFleet(fleet)
    return diagnoseAnomalies(model, facts, inRates, () => [])
  }

  it('are none in an ordinary fleet', () => {
    expect(readingsOf({})).toEqual([])
  })

  it('are none for one reading of ohms on an anode that wears as usual', () => {
    expect(
      readingsOf({ boat: ofTern({ continuity: [{ on: ONSET, from: 'shaft 1', to: 'bond', ohms: 12 }] }) }),
    ).toEqual([])
  })

  it('are one for mixed alloys, of all anodes on the bond', () => {
    const [finding, ...others] = readingsOf({ alloyOf: aluminiumShaft })
    expect(others).toEqual([])
    expect(finding!.anomaly).toMatchObject({ direction: 'other', noticedBy: 'reading', boat: 'Tern', scope: 'boat' })
    expect(top(finding!)).toBe('mixed-alloys')
  })

  it('are one for a boat whose alloy the water rules out', () => {
    const findings = readingsOf({ alloyOf: (boat) => (boat === 'Tern' ? 'magnesium' : 'zinc') })
    expect(findings.map(({ anomaly: { boat } }) => boat)).toEqual(['Tern'])
    expect(top(findings[0]!)).toBe('wrong-alloy-for-water')
    expect(findings[0]!.safety.join(' ')).toMatch(/Gone in weeks/)
  })

  it('back up what the rates show instead of standing beside it', () => {
    const inRates = [anomaly({ scope: 'anode', direction: 'fast', anodes: [SHAFT], onset: null })]
    expect(readingsOf({ alloyOf: aluminiumShaft }, inRates)).toHaveLength(1)
  })
})
