import { describe, expect, it } from 'vitest'
import { theoreticalCapacity } from '../../../src/engine/electrochemistry/faraday.js'
import {
  ANODE_ALLOY_ROWS,
  type AnodeAlloyKey,
  designAlloy,
  efficiency,
  familyOfAlloyRow,
} from '../../../src/engine/reference/anode-alloys.js'
import { type ElementKey, element } from '../../../src/engine/reference/elements.js'
import { ANODE_ALLOYS } from '../../../src/engine/reference/vocabulary.js'

const KILOGRAMS_PER_POUND = 0.45359237
const HOURS_PER_YEAR = 8760
const rowOf = (key: AnodeAlloyKey) => ANODE_ALLOY_ROWS.find((row) => row.key === key)!

/** Capacity of a mixture: each mass fraction gives its element's charge. */
const mixtureCapacity = (fractions: Partial<Record<ElementKey, number>>) =>
  Object.entries(fractions).reduce((sum, [key, fraction]) => {
    const { valence, molarMassGPerMol } = element(key as ElementKey)
    return sum + fraction * theoreticalCapacity(valence, molarMassGPerMol)
  }, 0)

describe('theoretical capacities of the rows', () => {
  // Faraday's law with the atomic masses of `ELEMENTS` and the nominal compositions: zinc of high purity; aluminium with 5 %
  // zinc (DNV-RP-B401 Table 10-6); ASTM B843 AZ63 (6 % Al, 3 % Zn, 0.2 % Mn) and M1C (1 % Mn). Rows print whole A·h/kg.
  it.each([
    ['zinc', { zinc: 1 }],
    ['aluminium', { aluminium: 0.95, zinc: 0.05 }],
    ['magnesium-az63', { magnesium: 0.908, aluminium: 0.06, zinc: 0.03, manganese: 0.002 }],
    ['magnesium-high-potential', { magnesium: 0.99, manganese: 0.01 }],
  ] as const)('%s agrees with its composition', (key, fractions) => {
    expect(Math.abs(rowOf(key).theoreticalAhPerKg - mixtureCapacity(fractions))).toBeLessThan(0.6)
  })

  it('are the same in all rows of a metal and above every practical capacity', () => {
    for (const row of ANODE_ALLOY_ROWS) {
      expect(row.practicalAhPerKg).toBeLessThan(row.theoreticalAhPerKg)
      expect(efficiency(row)).toBeGreaterThan(0.45)
    }
    for (const alloy of ['zinc', 'aluminium'] as const) {
      const rows = ANODE_ALLOY_ROWS.filter((row) => familyOfAlloyRow(row.key) === alloy)
      expect(new Set(rows.map((row) => row.theoreticalAhPerKg)).size).toBe(1)
    }
  })
})

describe('practical capacities of the rows', () => {
  // Tri-Services Electrical TP-17 (2017), 1.1.3: zinc, 372 A·h/lb and 90 % for design.
  it('zinc by TP-17', () => {
    expect(Math.abs(rowOf('zinc-tp17').practicalAhPerKg - (0.9 * 372) / KILOGRAMS_PER_POUND)).toBeLessThan(1)
    expect(efficiency(rowOf('zinc-tp17'))).toBeCloseTo(0.9, 3)
  })

  // "Zinc anode weight computation" (sizing sheet): aluminium, 1108 A·h/lb.
  it('aluminium by the sizing sheet', () => {
    expect(Math.abs(rowOf('aluminium-mil').practicalAhPerKg - 1108 / KILOGRAMS_PER_POUND)).toBeLessThan(0.5)
  })

  // MIL-HDBK-1004/10 p. 209: aluminium, 7.6 lb per A·year with its efficiency. Printed to 0.1 lb, hence ±0.7 %.
  it('aluminium by the military handbook', () => {
    const printed = HOURS_PER_YEAR / (7.6 * KILOGRAMS_PER_POUND)
    expect(Math.abs(rowOf('aluminium-handbook-1004').practicalAhPerKg / printed - 1)).toBeLessThan(0.007)
  })

  // MIL-HDBK-1004/10 p. 198: magnesium, 8.8 lb per A·year in theory and an efficiency of 0.50.
  it('magnesium by the military handbook', () => {
    const printed = (0.5 * HOURS_PER_YEAR) / (8.8 * KILOGRAMS_PER_POUND)
    expect(Math.abs(rowOf('magnesium-high-potential').practicalAhPerKg / printed - 1)).toBeLessThan(0.01)
  })
})

describe('designAlloy', () => {
  // DNV-RP-B401 Table 10-6 as two design sheets cite it: zinc 780, aluminium 2000 A·h/kg in seawater.
  it('computes with the offshore design values', () => {
    expect(designAlloy('zinc').practicalAhPerKg).toBe(780)
    expect(designAlloy('aluminium').practicalAhPerKg).toBe(2000)
  })

  it('stays within the family and takes its most careful value', () => {
    for (const alloy of ANODE_ALLOYS) {
      const row = designAlloy(alloy)
      expect(familyOfAlloyRow(row.key as AnodeAlloyKey)).toBe(alloy)
    }
    const aluminium = ANODE_ALLOY_ROWS.filter((row) => familyOfAlloyRow(row.key) === 'aluminium')
    expect(Math.min(...aluminium.map((row) => row.practicalAhPerKg))).toBe(designAlloy('aluminium').practicalAhPerKg)
  })

  // MIL-A-18001K background and the owners' tip column: zinc passivates in fresh water; magnesium is not for the sea.
  it('says which water an alloy is for', () => {
    expect(designAlloy('zinc').suits.fresh).toBe('no')
    expect(designAlloy('magnesium').suits.salt).toBe('no')
    expect(designAlloy('magnesium').suits.fresh).toBe('yes')
  })
})
