import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type AnodeDraft, UNTOUCHED } from '../../src/web/pages/haul-out/draft.js'
import { expectedOnScale, type Judgement, verdictOf } from '../../src/web/pages/lift/verdict.js'
import { anodeOf } from './anode-of.js'
import { forecastOf } from './forecast-of.js'

const ANODE = anodeOf()
/** 800 g, give or take 31.2 g: (p90 − p50)/1.2816 of 40 g. */
const FORECAST = forecastOf({ massNow: { p10: 760, p50: 800, p90: 840 } })
const scale = (mass: string, part: Partial<AnodeDraft> = {}): AnodeDraft => ({
  ...UNTOUCHED,
  mass,
  cleaned: true,
  ...part,
})
const judged = (typed: AnodeDraft, forecast = FORECAST) => verdictOf(ANODE, forecast, typed, 'g')?.judgement

const ORDER: readonly Judgement[] = ['far-below', 'below', 'normal', 'above', 'far-above']

describe('a reading held against its forecast', () => {
  // Normal tables: 1.96 σ leaves one in twenty, 3.09 σ one in a thousand on one side. σ of the forecast is
  // 40/1.28155 = 31.2 g; that of the reading (5 g steps, 0.3 %) adds under 3 g to it in square.
  it.each([
    ['800', 'normal'],
    ['742', 'normal'],
    ['735', 'below'],
    ['708', 'below'],
    ['695', 'far-below'],
    ['858', 'normal'],
    ['866', 'above'],
    ['905', 'far-above'],
  ] as const)('%s g is %s', (mass, judgement) => {
    expect(judged(scale(mass))).toBe(judgement)
  })

  it('reads each unit, and a comma', () => {
    expect(judged(scale('0,8', { unit: 'kg' }))).toBe('normal')
    expect(judged(scale('28.2', { unit: 'oz' }))).toBe('normal')
    expect(judged(scale('1.76', { unit: 'lb' }))).toBe('normal')
    expect(judged(scale('0.8', { unit: 'g' }))).toBe('far-below')
  })

  it('says nothing before anything is typed, of what is no number, and where nothing is expected', () => {
    expect(judged(UNTOUCHED)).toBeUndefined()
    expect(judged(scale('abc'))).toBeUndefined()
    expect(verdictOf(ANODE, undefined, scale('800'), 'g')).toBeNull()
  })

  it('takes the residue off what was not brushed', () => {
    const brushed = verdictOf(ANODE, FORECAST, scale('800', { cleaned: true }), 'g')
    const unbrushed = verdictOf(ANODE, FORECAST, scale('800', { cleaned: false }), 'g')
    expect(brushed?.foundG).toBe(800)
    expect(unbrushed?.foundG).toBeLessThan(800)
  })

  it('expects less of an eye than of a scale', () => {
    const byEye = verdictOf(ANODE, FORECAST, { ...UNTOUCHED, method: 'visual', wastedPercent: '50' }, 'g')
    const byScale = verdictOf(ANODE, FORECAST, scale('665'), 'g')
    // Half of 1170 g net is gone: 585 g are left, with the core 665 g.
    expect(byEye?.foundG).toBeCloseTo(665, 9)
    expect(byEye?.judgement).toBe('normal')
    expect(byScale?.judgement).toBe('far-below')
  })

  it('takes a missing anode for one that is all gone', () => {
    expect(verdictOf(ANODE, FORECAST, { ...UNTOUCHED, conditions: ['missing'] }, 'g')?.foundG).toBeCloseTo(80, 9)
  })

  it('never judges a heavier reading lower', () => {
    const grams = fc.integer({ min: 1, max: 2000 })
    fc.assert(
      fc.property(grams, grams, fc.constantFrom(true, false, null), (one, other, cleaned) => {
        const [light, heavy] = [Math.min(one, other), Math.max(one, other)].map((mass) =>
          judged(scale(String(mass), { cleaned })),
        )
        expect(ORDER.indexOf(light!)).toBeLessThanOrEqual(ORDER.indexOf(heavy!))
      }),
    )
  })

  it('says the same in every unit', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2000 }), (grams) => {
        const inKilograms = judged(scale(String(grams / 1000), { unit: 'kg' }))
        expect(inKilograms).toBe(judged(scale(String(grams))))
      }),
    )
  })

  it('shows as ± what it judges by: a reading just inside is normal, just outside is not', () => {
    const { massG, belowG, aboveG } = expectedOnScale(ANODE, FORECAST)
    expect(judged(scale(String(massG - 0.98 * belowG)))).toBe('normal')
    expect(judged(scale(String(massG - 1.02 * belowG)))).toBe('below')
    expect(judged(scale(String(massG + 0.98 * aboveG)))).toBe('normal')
    expect(judged(scale(String(massG + 1.02 * aboveG)))).toBe('above')
  })
})
