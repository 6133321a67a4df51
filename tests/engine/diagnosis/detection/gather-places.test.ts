import { describe, expect, it } from 'vitest'
import type { Anomaly } from '../../../../src/engine/diagnosis/anomaly.js'
import { gatherPlaces, type PlaceWithBoats } from '../../../../src/engine/diagnosis/detection/gather-places.js'

const BOATS = 30
const place = (name: string, boats: readonly string[]): PlaceWithBoats => ({
  scope: 'pontoon',
  name,
  pontoon: name,
  boats: new Set(boats),
})
const PLACES = [place('A', ['a1', 'a2', 'a3', 'a4', 'a5']), place('B', ['b1', 'b2', 'b3', 'b4', 'b5'])]

function changed(boat: string, onset: number | null, direction: 'fast' | 'slow' = 'fast'): Anomaly {
  return {
    scope: 'boat',
    boat,
    berth: null,
    pontoon: boat.startsWith('a') ? 'A' : 'B',
    anodes: [`${boat} shaft`],
    direction,
    noticedBy: 'drift',
    onset: onset === null ? null : { p10: onset - 40, p50: onset, p90: onset + 40 },
    surprise: direction === 'fast' ? 5 : -5,
    adjustedP: 0.001,
    logRatio: { mean: direction === 'fast' ? 0.9 : -0.9, sd: 0.3 },
    shares: { anode: 0, boat: 0.5, berth: 0.1, pontoon: 0.4 },
  }
}

describe('gatherPlaces', () => {
  it('takes boats of one pontoon that change at one time for one anomaly of the pontoon', () => {
    const found = gatherPlaces([changed('a1', 1000), changed('a3', 1060), changed('a4', 950)], PLACES, BOATS)
    expect(found).toHaveLength(1)
    expect(found[0]).toMatchObject({ scope: 'pontoon', boat: null, pontoon: 'A', direction: 'fast' })
    expect(found[0]!.anodes).toEqual(['a1 shaft', 'a3 shaft', 'a4 shaft'])
    expect(found[0]!.logRatio!.sd).toBeCloseTo(0.3 / Math.sqrt(3), 12)
    expect(Object.values(found[0]!.shares).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12)
    // Nothing is left to levels within it.
    expect(found[0]!.shares).toMatchObject({ anode: 0, boat: 0, berth: 0 })
  })

  // Three thirds of 0.7, 0.1 and 0.2 come to more than 1 in a computer's sums.
  it('gives no level more than the whole', () => {
    for (const [boat, berth, pontoon] of [
      [0.7, 0.1, 0.2],
      [0.6, 0.3, 0.1],
      [0.15, 0.8, 0.05],
    ] as const) {
      const each = ['a1', 'a2', 'a3'].map((name) => ({
        ...changed(name, 1000),
        shares: { anode: 0, boat, berth, pontoon },
      }))
      expect(gatherPlaces(each, PLACES, BOATS)[0]!.shares.pontoon).toBeLessThanOrEqual(1)
    }
  })

  it.each([
    ['lie apart', [changed('a1', 1000), changed('b1', 1000)]],
    ['changed at other times', [changed('a1', 1000), changed('a2', 1900)]],
    ['went the other way', [changed('a1', 1000), changed('a2', 1000, 'slow')]],
    ['are as many elsewhere', ['a1', 'a2', 'b1', 'b2', 'b3'].map((boat) => changed(boat, null))],
  ])('leaves alone boats that %s', (_, anomalies) => {
    expect(gatherPlaces(anomalies, PLACES, BOATS)).toHaveLength(anomalies.length)
    expect(gatherPlaces(anomalies, PLACES, BOATS)).toEqual(expect.arrayContaining(anomalies))
  })
})
