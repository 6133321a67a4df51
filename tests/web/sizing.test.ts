import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { CURRENT_DEMAND } from '../../src/engine/reference/current-demand.js'
import { takesCoating } from '../../src/engine/sizing/protection-current.js'
import { words } from '../../src/web/i18n/words.js'
import { answerOf, areaField } from '../../src/web/pages/sizing/answer-of.js'
import { lifeData } from '../../src/web/pages/sizing/life-data.js'
import { EXAMPLE, type SizingDraft, withArea } from '../../src/web/pages/sizing/sizing-draft.js'
import {
  type SizingWords,
  SURFACE_GROUPS,
  sayAnswer,
  saySuits,
  sayWrong,
} from '../../src/web/pages/sizing/sizing-words.js'
import { warmIn } from '../../src/web/wording/temperature.js'

const t = words.getFixedT('en', ['sizing', 'words']) as unknown as SizingWords

const sized = (change: Partial<SizingDraft> = {}) => {
  const answer = answerOf({ ...EXAMPLE, ...change })
  if (answer.kind !== 'sized') throw new Error(`not sized: ${[...answer.problems.keys()].join('; ')}`)
  return answer
}

const problemsOf = (change: Partial<SizingDraft>) => {
  const answer = answerOf({ ...EXAMPLE, ...change })
  if (answer.kind === 'sized') return {}
  return Object.fromEntries([...answer.problems].map(([field, wrong]) => [field, sayWrong(wrong, t)]))
}

describe('the form of the sizing page', () => {
  // Arithmetic on the published figures: 0.16 m²·0.05 + 0.06 m²·0.15 A/m² = 17 mA on average (handbook ranges); zinc of 780 A·h/kg
  // used to 0.80 (DNV-RP-B401 Tables 10-6, 10-8): 0.017·8760/(0.8·780) = 0.2387 kg for a year.
  it('reads its example in the units that it is typed in', () => {
    const { current, sizing } = sized()
    expect(current.meanA).toBeCloseTo(0.017, 12)
    expect(sizing.requiredMassKg).toBeCloseTo(0.2387, 4)
    expect(sizing.anode.massKg).toBeCloseTo(0.45, 12)
    expect(sayAnswer(sized(), t)).toBe('For 1 year one anode of 450 g is enough; of the criteria its mass decides.')
  })

  // A plate of 300 × 150 × 40 mm is 1.8 litres; aluminium anodes weigh about 2.75 g/cm³: 4.95 kg.
  it('reads millimetres', () => {
    expect(sized({ shape: 'plate', alloy: 'aluminium' }).sizing.anode.massKg).toBeCloseTo(4.95, 10)
    expect(sized({ shape: 'rod', alloy: 'aluminium' }).sizing.anode.initial.formula).toBe('slender')
  })

  it('reads a temperature in the unit that its reader thinks in', () => {
    const celsius = sized({ temperature: '20' }).resistivityOhmM
    warmIn('F')
    try {
      expect(sized({ temperature: '68' }).resistivityOhmM).toBeCloseTo(celsius, 12)
      expect(problemsOf({ temperature: '150' }).temperature).toContain('°F')
    } finally {
      warmIn(undefined)
    }
  })

  it('takes a current as it is given, with a comma too', () => {
    const { current, isEstimated } = sized({ demand: 'current', initialA: '0,5', meanA: '0,2', finalA: '0,3' })
    expect(current).toEqual({ initialA: 0.5, meanA: 0.2, finalA: 0.3 })
    expect(isEstimated).toBe(false)
  })

  it('says at each field what is wrong with it', () => {
    expect(problemsOf({ years: '' })).toEqual({ years: 'This figure is needed.' })
    expect(problemsOf({ massG: 'abc', salinityPsu: '' })).toMatchObject({
      massG: '“abc” is not a number.',
      salinityPsu: expect.any(String),
    })
    expect(problemsOf({ salinityPsu: '50' }).salinityPsu).toBe('It must be from 0 psu to 42 psu.')
    expect(problemsOf({ temperature: '60' }).temperature).toMatch(/^It must be from -?−?2 °C to \d+ °C\.$/)
    expect(problemsOf({ salinityPsu: '0' }).salinityPsu).toContain('fresh water')
    expect(problemsOf({ shape: 'rod', distanceMm: '100' })).toHaveProperty('distanceMm')
    expect(problemsOf({ shape: 'rod', coreDiameterMm: '60' })).toHaveProperty('coreDiameterMm')
    expect(problemsOf({ demand: 'current', meanA: '0' })).toHaveProperty('meanA')
    expect(problemsOf({ areas: [] })).toHaveProperty('form')
    const areas = withArea(EXAMPLE.areas)
    expect(problemsOf({ areas })).toEqual({ [areaField(areas.at(-1)!.id)]: 'This figure is needed.' })
  })

  it('forgets a coating on a surface that has its paint counted', () => {
    const areas = [{ id: 1, surface: 'painted-steel-hull', areaM2: '10', coating: 'II' }] as const
    expect(takesCoating('painted-steel-hull')).toBe(false)
    expect(sized({ areas }).current.meanA).toBeCloseTo(
      sized({ areas: [{ ...areas[0], coating: 'none' }] }).current.meanA,
      12,
    )
  })

  it('never fails, whatever is typed', () => {
    const text = fc.oneof(fc.string(), fc.double().map(String), fc.constantFrom('0', '-1', '9'.repeat(400), '0,000001'))
    const fields = [
      'years',
      'salinityPsu',
      'temperature',
      'massG',
      'exposedCm2',
      'lengthMm',
      'diameterMm',
      'distanceMm',
    ] as const
    fc.assert(
      fc.property(fc.constantFrom(...fields), text, fc.constantFrom('other', 'rod', 'plate'), (field, typed, shape) => {
        const answer = answerOf({ ...EXAMPLE, shape, [field]: typed })
        if (answer.kind === 'sized') expect(Number.isFinite(answer.sizing.lifeYears)).toBe(true)
        else expect(answer.problems.size).toBeGreaterThan(0)
      }),
    )
  })

  it('offers every published surface once', () => {
    const offered = SURFACE_GROUPS.flatMap(([, surfaces]): readonly string[] => surfaces)
    const published = CURRENT_DEMAND.filter((row) => (row.depthM?.[0] ?? 0) === 0).map((row) => row.key)
    expect(offered.toSorted()).toEqual(published.toSorted())
  })

  // The rows' own judgement, after MIL-A-18001K and handbooks: zinc for the sea, magnesium for fresh water only.
  it('says which water an alloy is for', () => {
    expect(saySuits('zinc', t)).toBe('for salt water; with limits in brackish; not for fresh.')
    expect(saySuits('magnesium', t)).toBe('for fresh water; not for salt and brackish.')
  })
})

describe('the drawing of life against mass', () => {
  it('meets the wanted life at the required mass and shows the answer on the line', () => {
    const answer = sized({ years: '4', massG: '200' })
    const data = lifeData(answer)
    expect(data.chosen.number).toBe(answer.sizing.number)
    expect(data.chosen.years / data.chosen.massKg).toBeCloseTo(data.wantedYears / data.requiredMassKg, 9)
    expect(data.anodes.filter(({ enough }) => !enough)).toHaveLength(answer.sizing.number - 1)
    expect(data.chosen.massKg).toBeLessThan(data.domain.massKg)
  })

  it('stays within its frame, and has no band round a current that is given', () => {
    const data = lifeData(sized({ demand: 'current', meanA: '3', initialA: '9', finalA: '4' }))
    expect(data.hasBand).toBe(false)
    for (const { years, low, high } of data.line) {
      expect(low).toBeLessThanOrEqual(years)
      expect(Math.max(years, high)).toBeLessThanOrEqual(data.domain.years)
    }
  })

  it('draws the answer alone where a dot for each number would be a smear', () => {
    const data = lifeData(sized({ years: '40', massG: '20' }))
    expect(data.anodes.map(({ number }) => number)).toEqual([data.chosen.number])
  })
})
