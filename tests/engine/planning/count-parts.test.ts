import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { countParts } from '../../../src/engine/planning/count-parts.js'

const part = (alloy: 'zinc' | 'aluminium' | null, shape: string | null, massG: number | null) => ({
  alloy,
  shape,
  massG,
})

describe('the count of parts', () => {
  it('tells alloys, shapes and masses apart, and joins castings of one part', () => {
    const parts = [
      part('zinc', 'collar', 1012),
      part('zinc', 'collar', 988),
      part('zinc', 'collar', 2100),
      part('aluminium', 'collar', 1000),
      part('zinc', 'collar', null),
      part(null, null, 640),
    ]
    expect(countParts(parts)).toEqual([
      { ...part(null, null, 640), count: 1 },
      { ...part('aluminium', 'collar', 1000), count: 1 },
      { ...part('zinc', 'collar', 1000), count: 2 },
      { ...part('zinc', 'collar', 2100), count: 1 },
      { ...part('zinc', 'collar', null), count: 1 },
    ])
  })

  it('counts each part once, in whatever order they come', () => {
    const anyPart = fc.record({
      alloy: fc.constantFrom('zinc' as const, 'aluminium' as const, null),
      shape: fc.constantFrom('collar', 'plate', null),
      massG: fc.option(fc.double({ min: 50, max: 9000, noNaN: true })),
    })
    fc.assert(
      fc.property(fc.array(anyPart), (parts) => {
        const counted = countParts(parts)
        expect(counted.reduce((sum, { count }) => sum + count, 0)).toBe(parts.length)
        expect(countParts(parts.toReversed())).toEqual(counted)
      }),
    )
  })
})
