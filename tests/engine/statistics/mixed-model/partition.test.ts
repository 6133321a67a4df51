import { describe, expect, it } from 'vitest'
import { flattenTerm } from '../../../../src/engine/statistics/mixed-model/flat-terms.js'
import { choosePartition } from '../../../../src/engine/statistics/mixed-model/partition.js'

/** Rows of boats with some positions each, at berths that all of them may come to. */
function nestedTerms(boats: number, placesABoat: number, rowsAPlace: number, berths: number) {
  const rows = Array.from({ length: boats * placesABoat * rowsAPlace }, (_, row) => row)
  const term = (name: string, count: number, levelOf: (row: number) => number) =>
    flattenTerm({
      name,
      levels: Array.from({ length: count }, (_, level) => `${name} ${level}`),
      membership: rows.map((row) => [{ level: levelOf(row), weight: 1 }]),
    })
  const placeOf = (row: number) => Math.floor(row / rowsAPlace)
  const boatOf = (row: number) => Math.floor(placeOf(row) / placesABoat)
  const terms = [
    term('boat', boats, boatOf),
    term('berth', berths, (row) => (boatOf(row) * 7 + (row % 2)) % berths),
    term('place', boats * placesABoat, placeOf),
  ]
  return { count: rows.length, terms }
}

describe('what is eliminated', () => {
  it('is the boats with all that lies within them, so that the small system is of the berths', () => {
    const { count, terms } = nestedTerms(140, 3, 5, 60)
    const { withinBlock, from } = choosePartition(count, 20, terms, [])
    expect(withinBlock).toEqual([true, false, true])
    expect(from).toHaveLength(140 + 1)
  })

  it('is the places alone where a few boats hold all rows: their blocks would cost more than they spare', () => {
    const { count, terms } = nestedTerms(3, 60, 5, 10)
    const { withinBlock } = choosePartition(count, 20, terms, [])
    expect(withinBlock).toEqual([false, false, true])
  })
})
