import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { CONFIRMABLE_DOUBTS } from '../../../src/contract/weighings.js'
import { judgeWeighing, type WeighingToJudge } from '../../../src/services/weighings/plausibility.js'
import type { KnownMass, Measured } from '../../../src/services/weighings/weighing-errors.js'

const anode = {
  fittedOn: '2024-04-01',
  removedOn: null,
  grossMassG: 1250,
  coreMassG: 80,
  lengthMm: 150,
  widthMm: 70,
  heightMm: 30,
}
const nothing: Measured = {
  weighedOn: '2025-10-01',
  method: 'scale',
  massG: null,
  resolutionG: 5,
  cleaned: true,
  submergedMassG: null,
  wastedPercent: null,
  lengthMm: null,
  widthMm: null,
  heightMm: null,
}
const onScale = (massG: number, on = '2025-04-12'): KnownMass => ({
  on,
  method: 'scale',
  massG,
  resolutionG: 5,
  cleaned: true,
})
const judge = (weighing: Partial<Measured>, around: Partial<WeighingToJudge> = {}) =>
  judgeWeighing({
    anode,
    previous: onScale(900),
    next: null,
    today: '2026-01-10',
    ...around,
    weighing: { ...nothing, ...weighing },
  })
const codes = (...asked: Parameters<typeof judge>) => judge(...asked).map((doubt) => doubt.code)

describe('a mass in the wrong unit', () => {
  it('asks whether kilograms were typed as grams', () => {
    expect(judge({ massG: 1.2 }, { previous: null })).toEqual([
      {
        field: 'massG',
        code: 'looks-like-kilograms',
        detail: '1.2 g is far below the 1250 g last known; did you mean 1.2 kg (1200 g)?',
      },
    ])
  })

  it('says what is wrong after the question is answered: still below the core', () => {
    expect(codes({ massG: 1.2 }, { confirmed: new Set(CONFIRMABLE_DOUBTS) })).toEqual(['below-core'])
  })

  it('takes a confirmed wisp of an anode without a core', () => {
    const coreless = { anode: { ...anode, coreMassG: null } }
    expect(codes({ massG: 1.2 }, coreless)).toEqual(['looks-like-kilograms'])
    expect(codes({ massG: 1.2 }, { ...coreless, confirmed: new Set(['looks-like-kilograms']) })).toEqual([])
  })

  it('does not ask about an anode worn nearly to nothing over its last weighings', () => {
    const pencil = { ...anode, grossMassG: 40, coreMassG: 0 }
    expect(codes({ massG: 0.7, resolutionG: 0.1 }, { anode: pencil, previous: onScale(2) })).toEqual([])
  })

  it('asks whether grams were sent as kilograms', () => {
    expect(codes({ massG: 850_000 })).toEqual(['looks-like-grams'])
  })
})

describe("an anode's life", () => {
  it.each([
    [{ weighedOn: '2024-03-31' }, {}, ['before-fitting']],
    [{ weighedOn: '2025-10-01' }, { anode: { ...anode, removedOn: '2025-09-30' } }, ['after-removal']],
    [{ weighedOn: '2026-01-12' }, {}, ['in-future']],
    [{ weighedOn: '2026-01-11' }, {}, []],
    [{ weighedOn: '2024-04-01' }, { previous: null }, []],
  ])('%j is judged', (weighing, around, expected) => {
    expect(codes({ massG: 850, ...weighing }, around)).toEqual(expected)
  })

  it('cannot be confirmed away', () => {
    const confirmed = new Set([...CONFIRMABLE_DOUBTS, 'in-future', 'before-fitting', 'below-core'])
    expect(codes({ massG: 850, weighedOn: '2027-01-01' }, { confirmed })).toEqual(['in-future'])
    expect(codes({ massG: 70 }, { confirmed })).toEqual(['below-core'])
  })

  it('lets a scale read low by its own resolution', () => {
    expect(codes({ massG: 76, resolutionG: 5 })).toEqual([])
    expect(codes({ massG: 74, resolutionG: 5 })).toEqual(['below-core'])
  })
})

describe('a heavier anode than last time', () => {
  it('is accepted within the error of the two weighings', () => {
    expect(codes({ massG: 905 })).toEqual([])
    expect(codes({ massG: 930 })).toEqual([])
  })

  it('asks whether the anode was replaced beyond it, and is accepted once confirmed', () => {
    expect(judge({ massG: 1080 })).toEqual([
      {
        field: 'massG',
        code: 'heavier-than-before',
        detail: 'heavier by 180 g than on 2025-04-12: was the anode replaced? Log the replacement, or confirm',
      },
    ])
    expect(codes({ massG: 1080 }, { confirmed: new Set(['heavier-than-before']) })).toEqual([])
  })

  it('allows for what sits on an anode that was not cleaned', () => {
    expect(codes({ massG: 1000, cleaned: true })).toEqual(['heavier-than-before'])
    expect(codes({ massG: 1000, cleaned: false })).toEqual([])
  })

  it('holds the first weighing against the mass when fitted, on whatever day that was', () => {
    const undated = { previous: null, anode: { ...anode, fittedOn: null } }
    expect(judge({ massG: 1600 }, undated)).toMatchObject([
      { detail: expect.stringContaining('heavier by 350 g than when it was fitted') },
    ])
    expect(codes({ massG: 1600 }, { previous: null })).toEqual(['heavier-than-before'])
    expect(codes({ massG: 1260 }, { previous: null })).toEqual([])
  })

  it('allows a rough estimate before it a wide error', () => {
    const byEye: KnownMass = { ...onScale(900), method: 'visual' }
    expect(codes({ massG: 1080 }, { previous: byEye })).toEqual([])
  })

  it('asks too when logged late and lighter than what was weighed since', () => {
    expect(codes({ massG: 500 }, { next: onScale(850, '2025-12-01') })).toEqual(['lighter-than-later'])
    expect(codes({ massG: 845 }, { next: onScale(850, '2025-12-01') })).toEqual([])
  })

  it('never asks about an anode that grew lighter and still covers its core', () => {
    fc.assert(
      fc.property(fc.integer({ min: 80, max: 900 }), (massG) => {
        expect(codes({ massG })).toEqual([])
      }),
    )
  })
})

describe('an estimate', () => {
  it('by eye needs the percent wasted, by calipers dimensions that were known when new', () => {
    expect(judge({ method: 'visual' })).toMatchObject([{ field: 'wastedPercent', code: 'missing' }])
    expect(judge({ method: 'dimensions' })).toMatchObject([{ field: 'lengthMm', code: 'missing' }])
    const unmeasured = { anode: { ...anode, widthMm: null } }
    expect(judge({ method: 'dimensions', widthMm: 60 }, unmeasured)).toMatchObject([
      { field: 'widthMm', code: 'missing' },
    ])
    expect(judge({ method: 'scale' })).toMatchObject([{ field: 'massG', code: 'missing' }])
  })

  it('is held against the anode when new, not against the mass before', () => {
    expect(codes({ method: 'visual', wastedPercent: 5 }, { previous: onScale(500) })).toEqual([])
    expect(codes({ method: 'dimensions', widthMm: 72 })).toEqual([])
    expect(judge({ method: 'dimensions', lengthMm: 150, widthMm: 95 })).toMatchObject([
      { field: 'widthMm', code: 'larger-than-new' },
    ])
    expect(judge({ method: 'dimensions', lengthMm: 120, massG: 2000 })).toMatchObject([
      { field: 'massG', code: 'larger-than-new' },
    ])
  })
})

it('a submerged mass lies below the dry one', () => {
  expect(codes({ massG: 850, submergedMassG: 730 })).toEqual([])
  expect(codes({ massG: 850, submergedMassG: 850 })).toEqual(['submerged-not-below-dry'])
  expect(codes({ method: 'visual', wastedPercent: 20, submergedMassG: 850 })).toEqual(['submerged-not-below-dry'])
})
