import { describe, expect, it } from 'vitest'
import { convertPotential } from '../../../src/engine/electrochemistry/electrode.js'
import { ANODE_UTILISATION } from '../../../src/engine/reference/anode-utilisation.js'
import { COATING_BREAKDOWN } from '../../../src/engine/reference/coating-breakdown.js'
import { CURRENT_DEMAND, currentDemand } from '../../../src/engine/reference/current-demand.js'
import {
  GALVANIC_METALS,
  GALVANIC_SERIES,
  galvanicMetal,
  midpointVSce,
} from '../../../src/engine/reference/galvanic-series.js'
import { SMALL_CRAFT_GALVANIC_SERIES } from '../../../src/engine/reference/galvanic-series-small-craft.js'
import { METAL_DENSITIES, metalDensity } from '../../../src/engine/reference/metal-densities.js'
import { PROTECTION_CRITERIA } from '../../../src/engine/reference/protection-criteria.js'
import { REFERENCE_ELECTRODE_ROWS, referenceElectrode } from '../../../src/engine/reference/reference-electrodes.js'
import {
  DEFAULT_WASTING_THRESHOLD,
  REPLACEMENT_AND_INSPECTION,
} from '../../../src/engine/reference/replacement-and-inspection.js'
import { SIGNS_AND_SAFETY } from '../../../src/engine/reference/signs-and-safety.js'
import { CONVERTIBLE_SCALES } from '../../../src/engine/reference/vocabulary.js'
import { WATER_DENSITIES } from '../../../src/engine/reference/water-densities.js'

const SQUARE_FEET_PER_SQUARE_METRE = 10.7639

describe('galvanic series', () => {
  // Australasian Corrosion Association, "Seawater corrosion": potentials in flowing seawater against saturated calomel.
  it.each([
    ['magnesium', -1.63, -1.6],
    ['zinc', -1.03, -0.98],
    ['mild-steel', -0.72, -0.6],
    ['copper', -0.37, -0.3],
    ['stainless-316-passive', -0.1, 0],
    ['stainless-316-active', -0.46, -0.33],
    ['graphite', 0.2, 0.3],
  ] as const)('prints %s from %d to %d V', (key, low, high) => {
    expect(galvanicMetal(key)).toMatchObject({ lowVSce: low, highVSce: high, status: 'verified' })
  })

  it('has 47 metals, each once, each with a range', () => {
    expect(new Set(GALVANIC_METALS).size).toBe(47)
    for (const row of GALVANIC_SERIES) expect(row.lowVSce).toBeLessThan(row.highVSce)
  })

  it('runs from noble to active, but for neighbours that overlap', () => {
    const middles = GALVANIC_SERIES.map(midpointVSce)
    middles.slice(1).forEach((middle, index) => {
      expect(middle).toBeLessThan(middles[index]! + 0.025)
    })
  })

  it('has an active row for every stainless grade that may lose its film', () => {
    for (const grade of ['304', '316', '410', '430'] as const) {
      const active = midpointVSce(galvanicMetal(`stainless-${grade}-active`))
      expect(active).toBeLessThan(midpointVSce(galvanicMetal(`stainless-${grade}-passive`)))
    }
  })

  // "About the galvanic series chart": zinc −1.05, mild steel −0.79, aluminium −0.82 V against silver/silver chloride. The
  // list is of still water and more negative; the two agree on what is more active than what.
  it('is in the same order on the list for small craft', () => {
    const listed = (key: string) => SMALL_CRAFT_GALVANIC_SERIES.find((row) => row.key === key)!.vAgAgcl
    expect(SMALL_CRAFT_GALVANIC_SERIES).toHaveLength(17)
    expect(listed('zinc')).toBe(-1.05)
    for (const [active, noble] of [
      ['magnesium', 'zinc'],
      ['zinc', 'aluminium-alloy'],
      ['aluminium-alloy', 'mild-steel'],
      ['mild-steel', 'silicon-bronze'],
    ] as const) {
      expect(listed(active)).toBeLessThan(listed(noble))
      expect(midpointVSce(galvanicMetal(active))).toBeLessThan(midpointVSce(galvanicMetal(noble)))
    }
  })

  it('makes zinc on both lists agree within the width of the range and its margin', () => {
    const small = convertPotential(-1.05, 'ag-agcl-seawater', 'sce')
    const { lowVSce } = galvanicMetal('zinc')
    expect(Math.abs(small - lowVSce)).toBeLessThan(0.03)
  })
})

describe('reference electrodes', () => {
  // International Journal of Corrosion 2010, 756950, Table 2: against hydrogen at 25 °C.
  it.each([
    ['sce', 0.241],
    ['cse', 0.316],
    ['ag-agcl-sat-kcl', 0.197],
    ['she', 0],
  ] as const)('prints %s at %d V', (key, vShe) => expect(referenceElectrode(key).vShe).toBe(vShe))

  it('has every scale that potentials are converted between', () => {
    const keys = REFERENCE_ELECTRODE_ROWS.map((row) => row.key)
    expect(CONVERTIBLE_SCALES.filter((key) => !keys.includes(key))).toEqual([])
  })

  it('uses a value within the printed range', () => {
    for (const row of REFERENCE_ELECTRODE_ROWS) {
      expect(row.vShe).toBeGreaterThanOrEqual(row.lowVShe)
      expect(row.vShe).toBeLessThanOrEqual(row.highVShe)
    }
  })
})

describe('current demand', () => {
  // DNV-RP-B401 Tables 10-1, 10-2, tropical row as a harbour calculation cites it: 0.150, 0.070, 0.100 A/m².
  it('prints bare steel in the tropics', () => {
    expect(currentDemand('bare-steel-tropical')).toMatchObject({
      initialAPerM2: 0.15,
      meanAPerM2: 0.07,
      finalAPerM2: 0.1,
    })
  })

  // Printed per square foot: MIL-HDBK-1004/10 pp. 201, 209 and the sizing sheet for boats. Rows carry four decimals.
  it.each([
    ['bare-steel-harbour-water', 2],
    ['bare-steel-harbour-mud', 1],
    ['coated-sheet-piling-harbour', 0.5],
    ['painted-steel-hull-well-coated', 1.5],
    ['painted-steel-hull-old-coating', 2],
    ['bare-steel-at-rest', 3],
    ['painted-aluminium-hull-well-coated', 0.5],
  ] as const)('converts %s from %d mA/ft²', (key, milliamperes) => {
    const perSquareMetre = (milliamperes / 1000) * SQUARE_FEET_PER_SQUARE_METRE
    expect(Math.abs(currentDemand(key).meanAPerM2 - perSquareMetre)).toBeLessThan(0.00006)
  })

  it('has 29 rows, each with a key of its own, the mean below the initial', () => {
    expect(new Set(CURRENT_DEMAND.map((row) => row.key)).size).toBe(29)
    for (const row of CURRENT_DEMAND) expect(row.meanAPerM2).toBeLessThan(row.initialAPerM2 ?? Number.POSITIVE_INFINITY)
  })
})

describe('coatings and utilisation', () => {
  // DNV-RP-B401 Table 10-4 as cited: category I near the surface a = b = 0.10 (harbour calculation); category III deeper
  // a = 0.02, b = 0.008 (bracelet sheet).
  it('prints the breakdown of two coatings', () => {
    expect(COATING_BREAKDOWN[0]).toMatchObject({
      category: 'I',
      depth: '0-30',
      a: 0.1,
      bPerYear: 0.1,
      status: 'verified',
    })
    expect(COATING_BREAKDOWN[5]).toMatchObject({ category: 'III', a: 0.02, bPerYear: 0.008, status: 'verified' })
  })

  // DNV-RP-B401 Table 10-8 as cited: 0.90 for long slender (harbour calculation), 0.80 for bracelets (bracelet sheet).
  it('prints two utilisation factors', () => {
    expect(ANODE_UTILISATION.map((row) => row.utilisationFactor)).toEqual([0.9, 0.85, 0.85, 0.8])
  })
})

describe('protection criteria', () => {
  // Page that sums up BS EN 12473: steel is protected at −0.80 V against silver/silver chloride in aerated seawater.
  it('prints the criterion of steel', () => {
    expect(PROTECTION_CRITERIA[0]).toMatchObject({ metal: 'carbon-steel', protectedAtOrBelowV: -0.8 })
  })

  it('puts every limit of harm beyond the limit of protection', () => {
    for (const row of PROTECTION_CRITERIA) {
      if (row.protectedAtOrBelowV === undefined || row.notBelowV === undefined) continue
      expect(row.notBelowV).toBeLessThan(row.protectedAtOrBelowV)
    }
    expect(PROTECTION_CRITERIA).toHaveLength(18)
  })
})

describe('densities', () => {
  // Public density tables, g/cm³: zinc 7.13–7.14, mild steel 7.85–7.87, brass 8.4, lead 11.34.
  it.each([
    ['zinc', 7.14],
    ['mild-steel', 7.86],
    ['lead', 11.34],
  ] as const)('prints %s', (key, density) => expect(metalDensity(key).typicalGPerCm3).toBe(density))

  it('keeps every typical density within its range', () => {
    for (const row of METAL_DENSITIES) {
      expect(row.typicalGPerCm3).toBeGreaterThanOrEqual(row.lowGPerCm3)
      expect(row.typicalGPerCm3).toBeLessThanOrEqual(row.highGPerCm3)
    }
  })

  // UNESCO Technical Papers in Marine Science 44 (1983), EOS-80 at 0 dbar: pure water of 5 °C 999.96675 kg/m³, of 25 °C
  // 997.04796 kg/m³; seawater of 35 psu at 5 °C 1027.67547 kg/m³, at 25 °C 1023.34306 kg/m³.
  it.each([
    ['fresh', 5, 999.96675],
    ['fresh', 25, 997.04796],
    ['salt', 5, 1027.67547],
    ['salt', 25, 1023.34306],
  ])('prints %s water at %d °C', (water, temperatureC, published) => {
    const row = WATER_DENSITIES.find((entry) => entry.water === water && entry.temperatureC === temperatureC)!
    expect(Math.abs(row.densityKgPerM3 - published)).toBeLessThan(0.0006)
  })
})

describe('rules of practice', () => {
  // Common practice, as three boating pages print it: replace when about half is gone.
  it('takes half as the wasting threshold', () => expect(DEFAULT_WASTING_THRESHOLD).toBe(0.5))

  it('has a text for every rule and a key of its own', () => {
    const rows = [...REPLACEMENT_AND_INSPECTION, ...SIGNS_AND_SAFETY]
    expect(new Set(rows.map((row) => row.key)).size).toBe(rows.length)
    for (const row of rows) expect(row.text.length).toBeGreaterThan(10)
  })

  // Electrical Safety Foundation International and IAEI Magazine, Sept. 2016.
  it('warns of alternating current in the water', () => {
    const warning = SIGNS_AND_SAFETY.find((row) => row.key === 'electric-shock-drowning')
    expect(warning).toMatchObject({ topic: 'safety', value: 10, unit: 'mA' })
  })
})
