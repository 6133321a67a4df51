import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { auditGalvanics } from '../../../src/engine/galvanic/audit.js'
import { type BoatFitting, type GalvanicBoat, PAINTED_SHARE } from '../../../src/engine/galvanic/boat-metals.js'
import { GALVANIC_METALS } from '../../../src/engine/reference/galvanic-series.js'
import { SOURCES } from '../../../src/engine/reference/sources.js'
import { ANODE_ALLOYS, WATERS } from '../../../src/engine/reference/vocabulary.js'

const fitting = (name: string, metal: BoatFitting['metal'], more: Partial<BoatFitting> = {}): BoatFitting => ({
  fitting: name,
  metal,
  areaCm2: 1000,
  coated: false,
  bonded: true,
  ...more,
})
const SHAFT = fitting('shaft', 'stainless-316-passive', { areaCm2: 1900 })
const PROPELLER = fitting('propeller', 'manganese-bronze', { areaCm2: 1450 })
const ZINC = { anode: 'shaft anode', alloy: 'zinc', bonded: true } as const

const boat = (more: Partial<GalvanicBoat> = {}): GalvanicBoat => ({
  hull: 'grp',
  water: 'salt',
  fittings: [SHAFT, PROPELLER],
  anodes: [ZINC],
  continuity: [],
  potentials: [],
  ...more,
})
const pairsOf = (more: Partial<GalvanicBoat>) =>
  auditGalvanics(boat(more)).pairs.map(
    ({ cathode, anode, connection }) => `${cathode.metal} > ${anode.metal} ${connection}`,
  )
const keysOf = (rows: readonly { readonly key: string }[]) => rows.map(({ key }) => key)
const verdictsOf = (more: Partial<GalvanicBoat>) =>
  Object.fromEntries(auditGalvanics(boat(more)).protection.map(({ alloy, verdict }) => [alloy, verdict]))

describe('the pairs of a boat', () => {
  it('are of metals, the fittings of one metal taken together', () => {
    const [pair, ...more] = auditGalvanics(
      boat({ fittings: [SHAFT, PROPELLER, fitting('strut', 'manganese-bronze')] }),
    ).pairs
    expect(more).toEqual([])
    expect(pair).toMatchObject({
      cathodeFittings: ['shaft'],
      anodeFittings: ['propeller', 'strut'],
      connection: 'connected',
    })
    expect(pair!.areaRatio).toBeCloseTo(1900 / 2450, 12)
  })

  it('are not made with what is not bonded, unless a reading joins it', () => {
    const skin = fitting('skin fitting', 'silicon-bronze', { bonded: false })
    const fittings = [SHAFT, skin]
    expect(pairsOf({ fittings })).toEqual([])
    const continuity = [{ at: '2031-04-01T09:00:00Z', from: 'skin fitting', to: 'shaft', ohms: 0.2 }]
    expect(pairsOf({ fittings, continuity })).toEqual(['stainless-316-passive > silicon-bronze connected'])
    expect(keysOf(auditGalvanics(boat({ fittings, continuity })).cautions)).toContain('connected-though-unbonded')
    const later = { at: '2031-05-01T09:00:00Z', from: 'shaft', to: 'skin fitting', ohms: 5000 }
    expect(pairsOf({ fittings, continuity: [later, ...continuity] })).toEqual([])
  })

  it('that touch each other apart from the bond are a system of their own', () => {
    const tab = fitting('trim tab', 'stainless-304-passive', { bonded: false })
    const bolt = fitting('bolt', 'mild-steel', { bonded: false })
    const continuity = [{ at: '2031-04-01T09:00:00Z', from: 'bolt', to: 'trim tab', ohms: 0 }]
    expect(pairsOf({ fittings: [SHAFT, tab, bolt], continuity })).toEqual([
      'stainless-304-passive > mild-steel connected',
    ])
  })

  it('of an unrecorded bond have no grade, but say what it would be', () => {
    const { pairs, questions } = auditGalvanics(
      boat({ fittings: [SHAFT, fitting('rudder', 'mild-steel', { bonded: null })] }),
    )
    expect(pairs).toMatchObject([
      {
        grade: 'unknown',
        connection: 'not-recorded',
        reasons: expect.arrayContaining([
          { code: 'bond/not-recorded', values: { fittings: 'rudder' } },
          { code: 'bond/if-bonded', values: { grade: 'severe' } },
        ]),
      },
    ])
    expect(questions).toContainEqual(expect.objectContaining({ key: 'bonded', about: 'rudder' }))
  })

  it('count painted surfaces by what their paint lets through', () => {
    const plate = fitting('plate', 'mild-steel', { coated: true })
    const [pair] = auditGalvanics(boat({ fittings: [PROPELLER, plate] })).pairs
    // DNV-RP-B401 Table 10-4, category I near the surface: a = 0.1, b = 0.1 a year; after a year 0.15 on average.
    expect(PAINTED_SHARE).toBeCloseTo(0.15, 12)
    expect(pair!.areaRatio).toBeCloseTo(1.45, 12)
    expect(pair!.exposedRatio).toBeCloseTo(1.45 / 0.15, 9)
    expect(keysOf(auditGalvanics(boat({ fittings: [PROPELLER, plate] })).cautions)).toContain('painted-anode')
  })

  it('come worst first', () => {
    const fittings = [
      SHAFT,
      PROPELLER,
      fitting('plate', 'mild-steel', { areaCm2: 10 }),
      fitting('skin', 'silicon-bronze'),
    ]
    const grades = auditGalvanics(boat({ fittings })).pairs.map(({ grade }) => grade)
    const order = ['severe', 'poor', 'fair', 'compatible']
    expect(grades).toEqual([...grades].sort((a, b) => order.indexOf(a) - order.indexOf(b)))
    expect(grades[0]).toBe('severe')
  })
})

describe('protection', () => {
  // A supplier's page in the manner of ABYC E-2: stainless on small craft −0.75 V, bronze −0.55 V, aluminium −0.90 V against
  // silver/silver chloride; DNV-RP-B401 Table 10-6: zinc −1.00 V, aluminium −1.05 V. By hand: 0.25, 0.45, 0.10, 0.15 V in hand.
  it('holds the anode against the most demanding metal', () => {
    const [zinc, aluminium] = auditGalvanics(
      boat({ fittings: [SHAFT, PROPELLER, fitting('drive', 'aluminium-alloy')] }),
    ).protection
    const margins = zinc!.metals.map(({ marginV }) => Number(marginV.toFixed(9)))
    expect(margins).toEqual([0.25, 0.45, 0.1])
    expect(aluminium!.metals[2]!.marginV).toBeCloseTo(0.15, 9)
    expect([zinc!.isFitted, aluminium!.isFitted]).toEqual([true, false])
    expect([zinc!.verdict, aluminium!.verdict]).toEqual(['protects', 'protects'])
  })

  // MIL-A-18001K background: zinc passivates in fresh water; a troubleshooting manual: magnesium is not for the sea.
  it('asks whether the alloy is for the water', () => {
    expect(verdictsOf({ water: 'fresh' })).toEqual({ zinc: 'unsuited', aluminium: 'barely', magnesium: 'protects' })
    expect(verdictsOf({ water: 'salt' })).toEqual({ zinc: 'protects', aluminium: 'protects', magnesium: 'unsuited' })
    expect(verdictsOf({ water: 'brackish' })).toMatchObject({ zinc: 'barely', aluminium: 'protects' })
    expect(verdictsOf({ water: null }).zinc).toBe('unknown')
    expect(verdictsOf({ fittings: [] }).zinc).toBe('unknown')
  })

  // Australasian Corrosion Association: lead −0.25 to −0.19 V calomel, which is 0.009 V below silver/silver chloride. Advanced
  // Marine Electrics and Electronics Troubleshooting, p. 110: a shift of at least 0.2 V.
  it('asks a shift of metals without a criterion, and nothing of those that never waste', () => {
    const fittings = [fitting('keel', 'lead'), fitting('rudder stock', 'titanium'), fitting('old anode', 'zinc')]
    const [zinc] = auditGalvanics(boat({ fittings })).protection
    expect(zinc!.metals.map(({ metal }) => metal)).toEqual(['lead'])
    expect(zinc!.metals[0]!.protectedAtV).toBeCloseTo(-0.22 - 0.009 - 0.2, 9)
    expect(zinc!.metals[0]!.criterion.metal).toBe('any-bonded-metal')
  })
})

describe('overprotection', () => {
  const verdict = (more: Partial<GalvanicBoat>) =>
    auditGalvanics(boat(more)).overprotection.map(({ verdict }) => verdict)
  const magnesium = [{ anode: 'hull anode', alloy: 'magnesium', bonded: true }] as const

  // Advanced Marine Electrics and Electronics Troubleshooting, p. 111: magnesium on aluminium or wood in salt or brackish
  // water drives the hull beyond the limit. Boat voltages page: wood −0.55 to −0.60 V, aluminium −0.90 to −1.10 V.
  it('forbids magnesium on wood and aluminium in the sea', () => {
    expect(verdict({ hull: 'wood', anodes: magnesium })).toContain('forbidden')
    expect(verdict({ hull: 'aluminium', anodes: magnesium, water: 'brackish' })).toContain('forbidden')
    expect(verdict({ hull: 'grp', anodes: magnesium, fittings: [fitting('drive', 'aluminium-alloy')] })).toContain(
      'forbidden',
    )
    expect(verdict({ hull: 'wood', anodes: magnesium, water: 'fresh' })).not.toContain('forbidden')
  })

  it('sees that zinc can harm wood but not aluminium', () => {
    expect(verdict({ hull: 'wood' })).toEqual(['possible'])
    expect(verdict({ hull: 'aluminium' })).toEqual(['within'])
    expect(verdict({ hull: 'ferrocement' })).toEqual([])
  })
})

describe('potentials', () => {
  const judged = (more: Partial<GalvanicBoat['potentials'][number]>, of: Partial<GalvanicBoat> = {}) =>
    auditGalvanics(
      boat({
        ...of,
        potentials: [
          { at: '2031-04-01T09:00:00Z', fitting: 'propeller', reference: 'ag-agcl-seawater', volts: -0.7, ...more },
        ],
      }),
    )

  // Boat voltages page: bronze protected at −0.55 V against silver/silver chloride. Int. J. Corrosion 2010, Table 2: copper
  // sulfate +0.316, here 0.066 V above silver/silver chloride.
  it('are judged on one electrode', () => {
    expect(judged({}).potentials).toMatchObject([{ verdict: 'protected', voltsAgAgcl: -0.7 }])
    expect(judged({ volts: -0.6, reference: 'cse' }).potentials).toMatchObject([{ verdict: 'under-protected' }])
    expect(judged({ volts: 0.33, reference: 'zinc' }).potentials).toMatchObject([{ verdict: 'protected' }])
  })

  it('of a wooden hull have a limit below', () => {
    expect(judged({ fitting: null, volts: -0.58 }, { hull: 'wood' }).potentials).toMatchObject([
      { verdict: 'protected' },
    ])
    expect(judged({ fitting: null, volts: -0.9 }, { hull: 'wood' }).potentials).toMatchObject([
      { verdict: 'over-protected' },
    ])
  })

  it('that cannot be, or cannot be judged, are asked about', () => {
    const sign = judged({ volts: 0.95 })
    expect(sign.potentials).toMatchObject([{ verdict: 'not-judged' }])
    expect(keysOf(sign.questions)).toContain('sign')
    expect(keysOf(judged({ reference: null }).questions)).toContain('reference')
    expect(judged({}, { water: 'fresh' }).potentials).toMatchObject([{ verdict: 'not-judged' }])
    expect(judged({ fitting: 'unheard of' }).potentials).toMatchObject([{ verdict: 'not-judged' }])
  })

  it('of one fitting count by their latest', () => {
    const potentials = [
      { at: '2031-05-01T09:00:00Z', fitting: 'propeller', reference: 'sce', volts: -0.3 },
      { at: '2031-04-01T09:00:00Z', fitting: 'propeller', reference: 'sce', volts: -0.8 },
    ] as const
    expect(auditGalvanics(boat({ potentials })).potentials).toMatchObject([{ verdict: 'under-protected' }])
  })
})

describe('cautions', () => {
  const cautions = (more: Partial<GalvanicBoat>) => keysOf(auditGalvanics(boat(more)).cautions)

  it('are raised by the metals that give reason for them', () => {
    expect(cautions({})).toEqual(['stainless-without-oxygen', 'dezincification'])
    expect(cautions({ fittings: [fitting('rudder', 'carbon-fibre')] })).toEqual(['carbon'])
    expect(cautions({ fittings: [fitting('cooler', 'admiralty-brass')] })).toEqual(['inhibited-brass'])
    const onAluminium = cautions({ hull: 'aluminium', fittings: [fitting('seacock', 'silicon-bronze')] })
    expect(onAluminium).toEqual(['copper-on-aluminium', 'copper-antifouling'])
    const apart = { hull: 'aluminium', fittings: [fitting('seacock', 'silicon-bronze', { bonded: false })] } as const
    expect(cautions(apart)).toEqual(['copper-antifouling'])
  })

  it('tell of mixed alloys, of fresh water, and of a bond that a reading denies', () => {
    const anodes = [ZINC, { anode: 'hull anode', alloy: 'aluminium', bonded: null } as const]
    expect(cautions({ anodes })).toContain('mixed-alloys')
    expect(cautions({ anodes: [ZINC, { ...anodes[1]!, bonded: false }] })).not.toContain('mixed-alloys')
    expect(cautions({ water: 'fresh' })).toContain('fresh-water')
    const continuity = [{ at: '2031-04-01T09:00:00Z', from: 'bond', to: 'propeller', ohms: 40 }]
    expect(auditGalvanics(boat({ continuity })).cautions).toContainEqual({ key: 'open-bond', parts: ['propeller'] })
  })
})

describe('a record with gaps', () => {
  it('is asked about, the boat first', () => {
    const nothing = { hull: null, water: null, fittings: [], anodes: [], continuity: [], potentials: [] }
    const { questions, pairs, protection } = auditGalvanics(nothing)
    expect(keysOf(questions)).toEqual(['no-fittings', 'water', 'hull', 'no-anodes'])
    expect(pairs).toEqual([])
    expect(protection.map(({ verdict }) => verdict)).toEqual(['unknown', 'unknown', 'unknown'])
  })

  it('is asked about each fitting, and about a metal hull that is not listed', () => {
    const fittings = [fitting('seacock', null, { areaCm2: 0, bonded: null }), SHAFT]
    const anodes = [{ anode: 'shaft anode', alloy: null, bonded: true }]
    const { questions } = auditGalvanics(boat({ hull: 'steel', fittings, anodes }))
    expect(questions.map(({ key, about }) => `${key} ${about}`)).toEqual([
      'hull-area null',
      'metal seacock',
      'area seacock',
      'bonded seacock',
      'alloy shaft anode',
    ])
  })

  const anyFitting = fc.record({
    fitting: fc.stringMatching(/^[a-e]{1,2}$/),
    metal: fc.option(fc.constantFrom(...GALVANIC_METALS), { nil: null }),
    areaCm2: fc.option(fc.double({ min: 0, max: 1e6, noNaN: true }), { nil: null }),
    coated: fc.option(fc.boolean(), { nil: null }),
    bonded: fc.option(fc.boolean(), { nil: null }),
  })

  it('never gets a grade where metal, area or bond is missing, nor a figure that is none', () => {
    const known: readonly string[] = SOURCES.map(({ key }) => key)
    fc.assert(
      fc.property(
        fc.uniqueArray(anyFitting, { selector: ({ fitting }) => fitting, maxLength: 6 }),
        fc.option(fc.constantFrom(...WATERS), { nil: null }),
        fc.constantFrom(...ANODE_ALLOYS),
        (fittings, water, alloy) => {
          const audit = auditGalvanics(boat({ fittings, water, anodes: [{ ...ZINC, alloy }] }))
          for (const pair of audit.pairs) {
            const isOpen = pair.connection === 'not-recorded'
            if (isOpen) expect(pair.grade).toBe('unknown')
            if (pair.areaRatio !== null) expect(pair.areaRatio).toBeGreaterThan(0)
            if (pair.areaRatio === null && pair.typicalVolts > 0.2 && pair.areRolesCertain && water !== 'fresh') {
              expect(pair.grade).toBe('unknown')
            }
          }
          expect(audit.sources.filter((key) => !known.includes(key))).toEqual([])
          expect(JSON.stringify(audit)).not.toMatch(/NaN|Infinity/)
        },
      ),
    )
  })
})
