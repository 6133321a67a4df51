import { describe, expect, it } from 'vitest'
import type { DepletionView } from '../../src/contract/forecasts.js'
import { plotData } from '../../src/presentation/depletion-drawing.js'
import { occupiedPositions } from '../../src/presentation/occupied-positions.js'
import { cautionsOfBoat } from '../../src/web/pages/boat/cautions.js'
import { sayBasis, sayForecast } from '../../src/web/pages/boat/forecast-words.js'
import { sayMassIn, sayPercent } from '../../src/web/wording/amounts.js'
import { addDays, daysBetween, sayDistance, saySpan } from '../../src/web/wording/days.js'
import { forecastOf } from './forecast-of.js'

type Anode = DepletionView['anodes'][number]

function anodeOf(part: Partial<Anode>): Anode {
  return {
    anode: 'shaft 2',
    position: 'shaft',
    positionSlot: 1,
    alloy: 'zinc',
    shape: null,
    fittedOn: '2030-04-18',
    removedOn: null,
    coreMassG: 80,
    fittedMassG: 1250,
    thresholdMassG: 665,
    weighings: [],
    curve: [],
    forecast: null,
    ...part,
  }
}

describe('the sentence of a forecast', () => {
  it.each([
    [
      { p05: '2031-08-01', p50: '2031-10-01', p95: '2032-01-01' },
      /^Expected .* around 1 Oct 2031; .* between 1 Aug 2031 and 1 Jan 2032\.$/,
    ],
    [{ p05: '2031-08-01', p50: '2031-10-01', p95: null }, /from 1 Aug 2031 on\.$/],
    [{ p05: '2031-01-01', p50: '2031-03-01', p95: '2031-09-01' }, /^Has probably reached/],
    [{ p05: '2030-01-01', p50: '2030-03-01', p95: '2030-09-01' }, /replace it at once\.$/],
    [{ p05: '2060-01-01', p50: null, p95: null }, /^May reach .* from 1 Jan 2060 on/],
    [{}, /^Not expected .* within 30 years\.$/],
  ])('of %j', (dates, sentence) => {
    expect(sayForecast(forecastOf({}, dates))).toMatch(sentence)
  })

  it('names what it rests on, the largest share first, nothing that has none', () => {
    const words = sayBasis({ physics: 0, fleet: 0.25, boat: 0.6, anode: 0.15 })
    expect(words.match(/\d+ %/g)).toEqual(['60 %', '25 %', '15 %'])
    expect(words).not.toContain('physics')
  })
})

describe('the positions of a boat', () => {
  it('give each anode in place those before it at the same place, and no others', () => {
    const before = anodeOf({ anode: 'shaft 1', fittedOn: '2029-04-18', removedOn: '2030-04-18' })
    const elsewhere = anodeOf({ anode: 'shaft 9', positionSlot: 2, fittedOn: '2029-04-18', removedOn: '2030-04-18' })
    const positions = occupiedPositions({ boat: 'Wren', asOf: '2031-04-18', anodes: [before, elsewhere, anodeOf({})] })
    expect(positions.map(({ current }) => current.anode)).toEqual(['shaft 2'])
    expect(positions[0]?.before.map(({ anode }) => anode)).toEqual(['shaft 1'])
  })
})

describe('the data of a plot', () => {
  const weighing = {
    id: '0b9f4d6e-6a5e-4f6f-9a58-2f6d6f0a7c11',
    on: '2030-10-02',
    method: 'scale',
    massG: 1000,
    sdG: 10,
    weight: 1,
  } as const
  const anode = anodeOf({
    weighings: [{ ...weighing, conditions: [], photos: [] }],
    forecast: forecastOf({}, { p05: '2031-08-01', p50: '2031-10-01', p95: '2032-01-01' }),
    curve: [
      { on: '2030-04-18', p10: 1250, p50: 1250, p90: 1250 },
      { on: '2032-06-01', p10: 300, p50: 400, p90: 500 },
    ],
  })

  // 1.96 standard deviations either way hold 95 % of a normal distribution.
  it('have error bars that hold 19 of 20 weighings', () => {
    const [point] = plotData(anode, [], '2031-04-18').weighings
    expect(point?.lowG).toBeCloseTo(1000 - 19.6, 6)
    expect(point?.highG).toBeCloseTo(1000 + 19.6, 6)
  })

  it('show today, the whole band of dates, and every mass', () => {
    const { domain, due, today } = plotData(anode, [], '2031-04-18')
    expect(due?.from.toISOString()).toBe('2031-08-01T00:00:00.000Z')
    expect(due?.to.toISOString()).toBe('2032-01-01T00:00:00.000Z')
    expect(domain.to.getTime()).toBeGreaterThan(due?.to.getTime() ?? 0)
    expect(today.getTime()).toBeLessThan(domain.to.getTime())
    expect(domain.highestG).toBe(1250)
  })
})

describe('the cautions of a boat', () => {
  const calm = {
    boat: { hull: 'grp' },
    water: 'salt',
    alloys: ['zinc'],
    wear: ['normal'],
    conditions: ['even'],
  } as const
  const keysOf = (part: Partial<Parameters<typeof cautionsOfBoat>[0]>) =>
    cautionsOfBoat({ ...calm, ...part }).map(({ key }) => key)

  it.each([
    [{}, []],
    [{ wear: ['fast', 'fast'] }, ['current-leak']],
    [{ conditions: ['pink', 'painted'] }, ['survey', 'no-paint']],
    [{ wear: ['slow'], conditions: ['pitted'] }, ['survey', 'not-working']],
    [{ alloys: ['magnesium' as const], boat: { hull: 'wood' as const } }, ['magnesium']],
    [{ alloys: ['magnesium' as const], boat: { hull: 'wood' as const }, water: 'fresh' as const }, []],
    [{ alloys: ['magnesium' as const] }, []],
  ])('for %j are %j', (part, keys) => {
    expect(keysOf(part)).toEqual(keys)
  })
})

describe('days and amounts in words', () => {
  it('count days across leap years and clock changes', () => {
    expect(daysBetween('2028-02-28', '2028-03-01')).toBe(2)
    expect(addDays('2031-03-29', 2)).toBe('2031-03-31')
  })

  it.each([
    ['2031-04-18', 'today'],
    ['2031-04-19', 'in 1 day'],
    ['2031-05-18', 'in 4 weeks'],
    ['2031-10-18', 'in 6 months'],
    ['2034-04-18', 'in 3 years'],
    ['2031-04-11', '7 days ago'],
  ])('say %s seen from 2031-04-18 as %s', (to, words) => {
    expect(sayDistance('2031-04-18', to)).toBe(words)
  })

  it('say a span once a year, and masses in the unit of the scale', () => {
    expect(saySpan('2031-03-02', '2031-08-30')).toBe('2 Mar – 30 Aug 2031')
    expect(saySpan('2031-03-02', '2032-08-30')).toBe('2 Mar 2031 – 30 Aug 2032')
    expect(saySpan('2031-03-02', null)).toBe('2 Mar 2031 or later')
    expect(sayMassIn(453.59237, 'lb')).toBe('1.00 lb')
    expect(sayPercent(0.001)).toBe('under 1 %')
    expect(sayPercent(0.999)).toBe('over 99 %')
  })
})
