import { describe, expect, it } from 'vitest'
import { fitKey } from '../../../src/services/model/fit-key.js'
import { bytesOf, type FittedFleet, KeptFits } from '../../../src/services/model/kept-fits.js'

/** A fleet of one anode with so many masses: what a fit is kept by. */
function fittedOf(masses: number): FittedFleet {
  const boats = [{ anodes: [{ states: new Array(masses) }] }]
  return { model: { boats } } as unknown as FittedFleet
}

const small = fittedOf(10)
const ROOM = 3 * bytesOf(small.model)
const keyOf = (yard: string, revision = 1) => fitKey(yard, '2031-04-18', revision)

function keptOf(yards: readonly string[], fitted = small): KeptFits {
  const kept = new KeptFits(ROOM)
  for (const yard of yards) kept.keep(keyOf(yard), fitted)
  return kept
}

const held = (kept: KeptFits, keys: readonly string[]) => keys.filter((key) => kept.get(key) !== undefined)

describe('KeptFits', () => {
  it('keeps as many fits as fit into memory, and lets go of those that were used longest ago', () => {
    const kept = keptOf(['a', 'b', 'c'])
    kept.get(keyOf('a'))
    kept.keep(keyOf('d'), small)
    expect(
      held(
        kept,
        ['a', 'b', 'c', 'd'].map((yard) => keyOf(yard)),
      ),
    ).toEqual(['a', 'c', 'd'].map((yard) => keyOf(yard)))
  })

  it('goes by how large they are, not by how many', () => {
    const kept = keptOf(['a', 'b', 'c'])
    kept.keep(keyOf('large'), fittedOf(20))
    expect(
      held(
        kept,
        ['a', 'b', 'c', 'large'].map((yard) => keyOf(yard)),
      ),
    ).toEqual([keyOf('c'), keyOf('large')])
  })

  it('keeps the last one however large it is, and nothing beside it', () => {
    const kept = keptOf(['a', 'b'])
    kept.keep(keyOf('huge'), fittedOf(1000))
    expect(held(kept, [keyOf('a'), keyOf('b'), keyOf('huge')])).toEqual([keyOf('huge')])
  })

  it('has of one fleet and day the newest and the one before, whatever room is left', () => {
    const kept = new KeptFits(10 * ROOM)
    kept.keep(keyOf('other'), small)
    for (const revision of [1, 2, 3]) kept.keep(keyOf('a', revision), small)
    const keys = [keyOf('other'), ...[1, 2, 3].map((revision) => keyOf('a', revision))]
    expect(held(kept, keys)).toEqual([keyOf('other'), keyOf('a', 2), keyOf('a', 3)])
  })

  it('counts a fit that is kept again once', () => {
    const kept = keptOf(['a', 'b', 'c'])
    for (let again = 0; again < 5; again++) kept.keep(keyOf('c'), small)
    expect(
      held(
        kept,
        ['a', 'b', 'c'].map((yard) => keyOf(yard)),
      ),
    ).toHaveLength(3)
  })
})
