import { describe, expect, it } from 'vitest'
import type { DepletionView } from '../../src/contract/forecasts.js'
import type { HaulOutView } from '../../src/contract/haul-outs.js'
import { SIGNS_AND_SAFETY } from '../../src/engine/reference/signs-and-safety.js'
import { nextLiftOf } from '../../src/presentation/next-lift.js'
import { ownerCautions } from '../../src/web/pages/owner/owner-cautions.js'
import { yourBoat } from '../../src/web/pages/owner/your-boat.js'
import { findingOf } from './finding-of.js'
import { forecastOf } from './forecast-of.js'

type Anode = DepletionView['anodes'][number]

const AS_OF = '2031-04-18'

function anodeOf(anode: string, dates: Parameters<typeof forecastOf>[1], part: Partial<Anode> = {}): Anode {
  const recommendedOn = dates?.p10 ?? null
  return {
    anode,
    position: 'shaft',
    positionSlot: 1,
    alloy: 'zinc',
    shape: 'shaft collar',
    fittedOn: '2030-04-18',
    removedOn: null,
    coreMassG: 80,
    fittedMassG: 1250,
    thresholdMassG: 665,
    weighings: [],
    curve: [],
    forecast: forecastOf({ anode, recommendedOn }, dates),
    ...part,
  }
}

function planned(...days: string[]): HaulOutView[] {
  return days.map((hauledOn) => ({
    id: '0b9f4d6e-6a5e-4f6f-9a58-2f6d6f0a7c11',
    boat: 'Wren',
    hauledOn,
    relaunchedOn: null,
    planned: true,
    note: null,
    createdAt: '2031-01-01T00:00:00.000Z',
    version: 1,
  }))
}

const ofAnodes = (anodes: Anode[], ...days: string[]) =>
  yourBoat({ boat: 'Wren', asOf: AS_OF, anodes }, planned(...days))

describe('when the boat should come out', () => {
  it('is the planned lift that the service recommends', () => {
    const anode = anodeOf('shaft 1', { p10: '2031-11-01', p90: '2032-02-01' })
    if (anode.forecast) anode.forecast.recommendedOn = '2031-10-01'
    expect(ofAnodes([anode], '2031-10-01').lift).toEqual({ kind: 'planned', on: '2031-10-01' })
  })

  it('is a day to be arranged where no lift is planned', () => {
    expect(ofAnodes([anodeOf('shaft 1', { p10: '2031-11-01' })]).lift).toEqual({ kind: 'by', on: '2031-11-01' })
  })

  it('is at once where the recommended day is today, unless a lift is planned for today', () => {
    const anode = anodeOf('shaft 1', { p10: AS_OF })
    expect(ofAnodes([anode]).lift).toEqual({ kind: 'now' })
    expect(ofAnodes([anode], AS_OF).lift).toEqual({ kind: 'planned', on: AS_OF })
    expect(ofAnodes([anode], '2032-10-01').lift).toEqual({ kind: 'nowPlanned', on: '2032-10-01' })
  })

  it('is far where no day is known within what the service looks at, unknown before the first forecast', () => {
    expect(ofAnodes([anodeOf('shaft 1', {})]).lift).toEqual({ kind: 'far' })
    expect(ofAnodes([anodeOf('shaft 1', {}, { forecast: null })]).lift).toEqual({ kind: 'unknown' })
    expect(ofAnodes([]).lift).toEqual({ kind: 'unknown' })
  })
})

describe('what to order', () => {
  it('is what the page of the boat says, whenever its owner is told to come', () => {
    const anodes = [
      // Due long before the next lift, so that an earlier one is advised: what it orders still goes by the plan.
      anodeOf('shaft 1', { p10: '2031-06-01' }),
      anodeOf('shaft 2', { p10: '2032-09-29' }),
      anodeOf('hull 1', { p10: '2033-01-01' }, { shape: 'teardrop' }),
      anodeOf('hull 2', {}, { forecast: null }),
    ]
    const { lift, parts } = ofAnodes(anodes)
    expect(lift).toEqual({ kind: 'by', on: '2031-06-01' })
    expect(parts).toEqual([{ alloy: 'zinc', shape: 'shaft collar', massG: 1300, count: 2 }])
    expect(parts).toEqual(nextLiftOf({ boat: 'Wren', asOf: AS_OF, anodes })?.parts)
  })

  it('leaves out what was replaced already, and is nothing where nothing is known', () => {
    const gone = anodeOf('shaft 1', { p10: '2031-01-01' }, { removedOn: '2031-02-01' })
    expect(ofAnodes([gone, anodeOf('shaft 2', {})]).parts).toEqual([])
    expect(ofAnodes([anodeOf('shaft 1', {}, { forecast: null })]).parts).toEqual([])
  })
})

describe('how sure it is', () => {
  it.each([
    ['2031-12-01', 'sure'],
    ['2032-06-01', 'fairly'],
    ['2033-06-01', 'rough'],
    [null, 'rough'],
  ] as const)('up to %s is %s', (p90, grade) => {
    const { sureness } = ofAnodes([anodeOf('shaft 1', { p10: '2031-10-01', p90 })])
    expect(sureness).toMatchObject({ grade, from: '2031-10-01', to: p90, position: 'shaft' })
  })

  it('is told of the anode that may be due first', () => {
    const anodes = [
      anodeOf('shaft 1', { p10: '2031-10-01', p90: '2031-11-01' }),
      anodeOf('hull 1', { p10: '2031-09-01' }),
    ]
    expect(ofAnodes(anodes).sureness?.anode).toBe('hull 1')
    expect(ofAnodes([]).sureness).toBeNull()
  })
})

describe('what is past', () => {
  it('is told as due already, not as a date to come', () => {
    const anode = anodeOf('shaft 1', { p10: '2031-01-01', p90: '2031-04-01' })
    expect(ofAnodes([anode]).sureness?.grade).toBe('past')
  })
})

describe('the cautions of an owner', () => {
  const textOf = (key: string) => SIGNS_AND_SAFETY.find((row) => row.key === key)?.text ?? 'no such rule'
  const signs = { boat: { hull: 'grp' as const }, water: 'salt' as const, inPlace: [] }

  it('begin with what can kill, also where only a finding warns of it', () => {
    const safety = ['thin-fitting', 'cutting-the-earth', 'electric-shock-drowning'].map(textOf)
    const keys = ownerCautions({ ...signs, findings: [findingOf({ safety })] }).map(({ key }) => key)
    expect(keys).toEqual(['current-leak', 'survey', 'earth'])
  })

  it('tell each once, of looks and of slow wear too', () => {
    const weighing = {
      id: '0b9f4d6e-6a5e-4f6f-9a58-2f6d6f0a7c11',
      on: AS_OF,
      method: 'scale' as const,
      massG: 900,
      sdG: 3,
      weight: 1,
      conditions: ['pink', 'painted'],
      photos: [],
    }
    const inPlace = [
      anodeOf('shaft 1', {}, { weighings: [weighing] }),
      anodeOf('shaft 2', {}, { weighings: [weighing] }),
    ]
    const findings = [findingOf({ direction: 'slow', safety: [textOf('thin-fitting')] })]
    expect(ownerCautions({ ...signs, inPlace, findings })).toEqual([
      { key: 'survey', grade: 'stop' },
      { key: 'not-working', grade: 'mind' },
      { key: 'no-paint', grade: 'mind' },
    ])
  })

  it('are none where nothing calls for one', () => {
    expect(ownerCautions({ ...signs, findings: [findingOf({ safety: [] })] })).toEqual([])
  })
})
