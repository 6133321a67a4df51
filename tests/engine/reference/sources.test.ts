import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { ANODE_ALLOY_ROWS } from '../../../src/engine/reference/anode-alloys.js'
import { ANODE_DESIGN } from '../../../src/engine/reference/anode-design.js'
import { ANODE_UTILISATION } from '../../../src/engine/reference/anode-utilisation.js'
import { CAUSE_PRIORS, HIDDEN_CONDITIONS } from '../../../src/engine/reference/cause-priors.js'
import { COATING_BREAKDOWN } from '../../../src/engine/reference/coating-breakdown.js'
import { FARADAY } from '../../../src/engine/reference/constants.js'
import { CORROSION_RATE_CONSTANTS } from '../../../src/engine/reference/corrosion-rate-constants.js'
import { CRITERION_OF_GROUP, CRITERION_OF_HULL } from '../../../src/engine/reference/criteria-of-metals.js'
import { CURRENT_DEMAND } from '../../../src/engine/reference/current-demand.js'
import { DIAGNOSIS_CHECKS } from '../../../src/engine/reference/diagnosis-checks.js'
import { ELEMENTS } from '../../../src/engine/reference/elements.js'
import { COATING_RENEWAL, DEMAND_SPREAD, FITTING_DEMAND } from '../../../src/engine/reference/fitting-demand.js'
import { GALVANIC_CAUTIONS } from '../../../src/engine/reference/galvanic-cautions.js'
import { AREA_STEPS, GALVANIC_AUDIT_FIGURES, POTENTIAL_STEPS } from '../../../src/engine/reference/galvanic-grades.js'
import { GALVANIC_SERIES } from '../../../src/engine/reference/galvanic-series.js'
import { SMALL_CRAFT_GALVANIC_SERIES } from '../../../src/engine/reference/galvanic-series-small-craft.js'
import { METAL_DENSITIES } from '../../../src/engine/reference/metal-densities.js'
import { PROTECTION_CRITERIA } from '../../../src/engine/reference/protection-criteria.js'
import { REFERENCE_ELECTRODE_ROWS } from '../../../src/engine/reference/reference-electrodes.js'
import { REPLACEMENT_AND_INSPECTION } from '../../../src/engine/reference/replacement-and-inspection.js'
import { USUAL_SCALE_STEP } from '../../../src/engine/reference/scales.js'
import {
  LOW_SALINITY,
  SALINITY_TEMPERATURE_FACTOR,
  SEAWATER_LIMITS,
  SEAWATER_POLYNOMIALS,
  STANDARD_CONDUCTIVITY,
} from '../../../src/engine/reference/seawater-scales.js'
import { SIGNS_AND_SAFETY } from '../../../src/engine/reference/signs-and-safety.js'
import { SIGNS_IN_WEAR } from '../../../src/engine/reference/signs-in-wear.js'
import { SIGNS_ON_BOARD } from '../../../src/engine/reference/signs-on-board.js'
import { SOURCES, source } from '../../../src/engine/reference/sources.js'
import type { Status } from '../../../src/engine/reference/status.js'
import { TELLING_READINGS } from '../../../src/engine/reference/telling-readings.js'
import { WATER_DENSITIES } from '../../../src/engine/reference/water-densities.js'
import { CALCULATORS } from '../../../src/services/calculators/registry.js'

interface Sourced {
  readonly status: Status
  readonly sources: readonly string[]
  readonly note: string
}

const TABLES: Record<string, readonly Sourced[]> = {
  'anode alloys': ANODE_ALLOY_ROWS,
  'anode design': Object.values(ANODE_DESIGN),
  'anode utilisation': ANODE_UTILISATION,
  'causes of wear': [...CAUSE_PRIORS, ...HIDDEN_CONDITIONS],
  'checks of a finding': DIAGNOSIS_CHECKS,
  'coating breakdown': COATING_BREAKDOWN,
  constants: [FARADAY],
  'corrosion rates': CORROSION_RATE_CONSTANTS,
  'current demand': CURRENT_DEMAND,
  elements: ELEMENTS,
  'fitting demand': FITTING_DEMAND,
  'spreads and renewals': [{ ...COATING_RENEWAL }, { ...DEMAND_SPREAD }, { ...USUAL_SCALE_STEP }],
  'criteria of metals and hulls': [...CRITERION_OF_GROUP, ...CRITERION_OF_HULL],
  'galvanic audit': [...POTENTIAL_STEPS, ...AREA_STEPS, ...Object.values(GALVANIC_AUDIT_FIGURES), ...GALVANIC_CAUTIONS],
  'galvanic series': GALVANIC_SERIES,
  'galvanic series, small craft': SMALL_CRAFT_GALVANIC_SERIES,
  'metal densities': METAL_DENSITIES,
  'protection criteria': PROTECTION_CRITERIA,
  'reference electrodes': REFERENCE_ELECTRODE_ROWS,
  'replacement and inspection': REPLACEMENT_AND_INSPECTION,
  seawater: [
    ...SEAWATER_POLYNOMIALS,
    STANDARD_CONDUCTIVITY,
    SALINITY_TEMPERATURE_FACTOR,
    LOW_SALINITY,
    SEAWATER_LIMITS,
  ],
  'signs and safety': SIGNS_AND_SAFETY,
  'signs of a cause': [...SIGNS_IN_WEAR, ...SIGNS_ON_BOARD, ...TELLING_READINGS],
  'water densities': WATER_DENSITIES,
}

const documented = readFileSync(new URL('../../../docs/sources.md', import.meta.url), 'utf8')
const documentedKeys = [...documented.matchAll(/^\| `([^`]+)` \|/gm)].map((match) => match[1])

const citedByFormulas = ['diagnosis', 'diagnosis/checks', 'electrochemistry', 'galvanic', 'planning', 'sizing']
  .map((folder) => new URL(`../../../src/engine/${folder}/`, import.meta.url))
  .flatMap((folder) =>
    readdirSync(folder)
      .filter((file) => file.endsWith('.ts'))
      .map((file) => new URL(file, folder)),
  )
  .flatMap((file) => [...readFileSync(file, 'utf8').matchAll(/@see reference (.+)/g)])
  .flatMap(([, keys]) => [...(keys ?? '').matchAll(/`([^`]+)`/g)].map((match) => match[1] ?? ''))

describe('sources', () => {
  it('that formulas cite resolve', () => {
    const known = new Set<string>(SOURCES.map(({ key }) => key))
    expect(citedByFormulas.length).toBeGreaterThan(5)
    expect(citedByFormulas.filter((key) => !known.has(key))).toEqual([])
  })

  it.each(Object.entries(TABLES))('%s: every row names sources that resolve', (_, rows) => {
    const known = new Set<string>(SOURCES.map(({ key }) => key))
    expect(rows.flatMap((row) => row.sources).filter((key) => !known.has(key))).toEqual([])
    expect(rows.filter((row) => row.sources.length === 0)).toEqual([])
  })

  it.each(Object.entries(TABLES))('%s: what is partly read, assumed or corrected says how', (_, rows) => {
    const wanting: Status[] = ['verified-in-part', 'assumed', 'corrected']
    expect(rows.filter((row) => wanting.includes(row.status) && row.note === '' && !('text' in row))).toEqual([])
  })

  it('are used, each of them', () => {
    const used = new Set(Object.values(TABLES).flatMap((rows) => rows.flatMap((row) => row.sources)))
    for (const key of [...citedByFormulas, ...CALCULATORS.flatMap((entry) => entry.sources)]) used.add(key)
    expect(SOURCES.map(({ key }) => key).filter((key) => !used.has(key))).toEqual([])
  })

  it('are the same list in the documentation', () => {
    expect(documentedKeys).toEqual(SOURCES.map(({ key }) => key))
  })

  it('can be looked up', () => {
    expect(source('tp-17').title).toContain('TP-17')
  })

  it('have keys of their own', () => {
    expect(new Set(SOURCES.map(({ key }) => key)).size).toBe(SOURCES.length)
  })
})
