import { describe, expect, it } from 'vitest'
import type { DepletionView } from '../../src/contract/forecasts.js'
import { nextLiftOf } from '../../src/presentation/next-lift.js'
import { forecastOf } from '../web/forecast-of.js'

type Anode = DepletionView['anodes'][number]

function anodeOf(anode: string, part: Partial<Anode>): Anode {
  return {
    anode,
    position: 'hull',
    positionSlot: 1,
    alloy: 'zinc',
    shape: 'hull plate',
    fittedOn: '2030-04-01',
    removedOn: null,
    coreMassG: 80,
    fittedMassG: 2000,
    thresholdMassG: 1040,
    weighings: [],
    curve: [],
    forecast: null,
    ...part,
  }
}

const risks = (days: readonly string[]) => ({ haulOutRisks: days.map((on) => ({ on, risk: 0.5 })) })
const depletionOf = (anodes: Anode[]): DepletionView => ({ boat: 'Wren', asOf: '2031-04-18', anodes })

describe('what to order for the next lift', () => {
  it('is what would be due before the following planned lift with more than one chance in ten', () => {
    const planned = risks(['2031-10-01', '2032-10-04'])
    const order = nextLiftOf(
      depletionOf([
        anodeOf('hull 1', { forecast: forecastOf(planned, { p10: '2032-10-03', p50: '2033-05-01' }) }),
        anodeOf('hull 2', { forecast: forecastOf(planned, { p10: '2032-10-04', p50: '2033-05-01' }), positionSlot: 2 }),
        anodeOf('hull 3', { forecast: forecastOf(planned), positionSlot: 3 }),
      ]),
    )
    expect(order).toEqual({
      lift: { on: '2031-10-01', planned: true },
      following: { on: '2032-10-04', planned: true },
      replace: ['hull 1'],
      parts: [{ alloy: 'zinc', shape: 'hull plate', massG: 2000, count: 1 }],
      unknown: [],
    })
  })

  it('assumes a year to the following lift where none is planned, as the forecasts do', () => {
    const order = nextLiftOf(
      depletionOf([
        anodeOf('hull 1', { forecast: forecastOf({}, { p10: '2032-09-29' }), alloy: null, fittedMassG: null }),
      ]),
    )
    expect(order?.following).toEqual({ on: '2032-09-30', planned: false })
    expect(order?.parts).toEqual([{ alloy: null, shape: 'hull plate', massG: null, count: 1 }])
  })

  it('names those of which nothing is known, and is silent where that is all of them', () => {
    const unknown = anodeOf('hull 1', {})
    const gone = anodeOf('hull 0', { removedOn: '2030-04-01', forecast: forecastOf({}, { p10: '2030-01-01' }) })
    expect(nextLiftOf(depletionOf([unknown, gone]))).toBeNull()
    const known = anodeOf('shaft 1', { position: 'shaft', forecast: forecastOf({}) })
    expect(nextLiftOf(depletionOf([unknown, known]))).toMatchObject({ replace: [], parts: [], unknown: ['hull 1'] })
  })
})
