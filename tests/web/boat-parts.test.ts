import { describe, expect, it } from 'vitest'
import type { DepletionView } from '../../src/contract/forecasts.js'
import type { PhotoView } from '../../src/contract/photos.js'
import type { PotentialView } from '../../src/contract/potentials.js'
import type { StayView } from '../../src/contract/stays.js'
import { comparablePositions, firstPair } from '../../src/web/pages/boat/photos/photo-choice.js'
import { potentialSeries } from '../../src/web/pages/boat/potentials/potential-data.js'
import { stayStrip } from '../../src/web/pages/boat/stays/stay-spans.js'

const kept = { boat: 'Wren', createdAt: '2031-04-18T09:30:00.000Z', version: 1 }

function photo(id: string, anode: string | null, date: string): PhotoView {
  const size = { widthPx: 800, heightPx: 600, bytes: 1 }
  return { id, anode, date, weighingId: null, haulOutId: null, url: '', thumbUrl: '', ...size, ...kept }
}

function depletionOf(anodes: readonly [string, string, number][]): DepletionView {
  const rest = { alloy: null, shape: null, fittedOn: null, removedOn: null, coreMassG: null, fittedMassG: null }
  return {
    boat: 'Wren',
    asOf: '2031-04-18',
    anodes: anodes.map(([anode, position, positionSlot]) => ({
      anode,
      position,
      positionSlot,
      ...rest,
      thresholdMassG: null,
      weighings: [],
      curve: [],
      forecast: null,
    })),
  }
}

describe('photos to compare', () => {
  const depletion = depletionOf([
    ['shaft 1', 'shaft', 1],
    ['shaft 2', 'shaft', 1],
    ['hull 1', 'hull', 1],
    ['hull 2', 'hull', 2],
  ])

  it('are those of one position across its anodes, the position seen last in front', () => {
    const photos = [
      photo('c', 'hull 1', '2030-01-01'),
      photo('d', 'hull 2', '2031-01-01'),
      photo('b', 'shaft 2', '2030-06-01'),
      photo('a', 'shaft 1', '2029-06-01'),
    ]
    const groups = comparablePositions(depletion, photos)
    expect(groups.map(({ position, photos }) => [position, photos.map(({ id }) => id)])).toEqual([
      ['shaft', ['a', 'b']],
    ])
    const more = comparablePositions(depletion, [...photos, photo('e', 'hull 2', '2031-02-01')])
    expect(more.map(({ position }) => position)).toEqual(['hull 2', 'shaft'])
  })

  it('begin with the last two days, or two of one day where there is no other', () => {
    const two = firstPair([
      photo('a', null, '2030-01-01'),
      photo('b', null, '2031-01-01'),
      photo('c', null, '2031-01-01'),
    ])
    expect([two?.before.id, two?.after.id]).toEqual(['a', 'c'])
    const same = firstPair([photo('b', null, '2031-01-01'), photo('c', null, '2031-01-01')])
    expect([same?.before.id, same?.after.id]).toEqual(['b', 'c'])
    expect(firstPair([photo('a', null, '2030-01-01')])).toBeNull()
  })
})

describe('the strip of stays', () => {
  const stay = (id: string, berth: string | null, fromOn: string, toOn: string | null): StayView => ({
    id,
    berth,
    fromOn,
    toOn,
    shorePowerHoursPerDay: null,
    ...kept,
  })

  it('fills its length from the first stay on, each as long as it lasted, the open one to the end', () => {
    const strip = stayStrip(
      [stay('a', 'B1', '2030-01-01', '2030-07-01'), stay('b', null, '2030-07-01', null)],
      '2031-01-01',
    )!
    expect(strip.spans.map(({ start }) => start)[0]).toBe(0)
    expect(strip.spans.reduce((sum, { length }) => sum + length, 0)).toBeCloseTo(100, 9)
    // 181 days of 365 and the 60 that are shown ahead.
    expect(strip.spans[0]!.length).toBeCloseTo((181 / 425) * 100, 9)
    expect(strip.today).toBeCloseTo((365 / 425) * 100, 9)
    expect(strip.years.map(({ label }) => label)).toEqual(['2030', '2031'])
  })

  it('is none where no stay is on record', () => {
    expect(stayStrip([], '2031-01-01')).toBeNull()
  })
})

describe('the chart of potentials', () => {
  const reading = (id: string, part: Partial<PotentialView>): PotentialView => ({
    id,
    measuredAt: '2031-04-01T09:00:00Z',
    fitting: null,
    reference: 'ag-agcl-seawater',
    volts: -0.8,
    shorePower: null,
    circuits: null,
    ...kept,
    ...part,
  })
  const around = { hull: 'grp', water: 'salt', fittings: [] } as const

  it('converts every reading to one electrode and leaves out those of an unknown one', () => {
    const [hull] = potentialSeries(
      [reading('a', { reference: 'sce' }), reading('b', {}), reading('c', { reference: null })],
      around,
    )
    // NACE, International Journal of Corrosion, table 2: calomel reads 0.009 V higher on the hydrogen scale than silver/silver chloride.
    expect(hull!.readings.map(({ volts }) => Number(volts.toFixed(3)))).toEqual([-0.809, -0.8])
    expect(hull!.unknownReference).toBe(1)
  })

  // A supplier's table in the manner of ABYC E-2, as the reference tables hold it: glass-fibre −0.75 to −1.00 V, bronze −0.55 V.
  it('has the band of what was read: of the hull, of a metal, none in fresh water or for an unknown metal', () => {
    const fitting = (name: string, metal: string | null) => ({
      id: name,
      name,
      metal,
      areaCm2: null,
      coated: null,
      bonded: null,
      ...kept,
    })
    const fittings = [fitting('propeller', 'manganese-bronze'), fitting('strut', null)]
    const read = [reading('a', {}), reading('b', { fitting: 'propeller' }), reading('c', { fitting: 'strut' })]
    const bands = (water: 'salt' | 'fresh') =>
      Object.fromEntries(
        potentialSeries(read, { ...around, water, fittings }).map((each) => [each.fitting ?? 'hull', each.band]),
      )
    expect(bands('salt')).toMatchObject({
      hull: { protectedAtOrBelowV: -0.75, notBelowV: -1 },
      propeller: { protectedAtOrBelowV: -0.55 },
      strut: null,
    })
    expect(bands('fresh')).toEqual({ hull: null, propeller: null, strut: null })
  })

  it('holds band and readings within its axis', () => {
    const [series] = potentialSeries([reading('a', { volts: -1.3 })], around)
    expect(series!.domain[0]).toBeLessThan(-1.3)
    expect(series!.domain[1]).toBeGreaterThan(-0.75)
  })
})
