import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { referenceTableNamed } from '../../../src/services/reference/reference-service.js'

/**
 * The fixtures are the published values as they were read, gathered apart from the program: see the README of the tables for
 * who prints them. Each figure that is served must be the one that was read.
 */
const read = (name: string) => readFileSync(new URL(`./fixtures/${name}`, import.meta.url), 'utf8')

type CsvRow = Readonly<Record<string, string>>

/** RFC 4180 with quotes; the fixtures have no line breaks within a cell. */
function csvRows(name: string): CsvRow[] {
  const [header, ...lines] = read(name).trim().split(/\r?\n/).map(cellsOf)
  return lines.map((cells) => Object.fromEntries(header!.map((column, at) => [column, cells[at] ?? ''])))
}

function cellsOf(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(([, quoted, plain]) =>
    quoted === undefined ? plain! : quoted.replaceAll('""', '"'),
  )
}

const number = (cell: string | undefined) => (cell === undefined || cell === '' ? null : Number(cell))
const items = (table: string) => referenceTableNamed(table).body.items

/** Rows of a fixture and of a table are in the same order: how each pair of them is compared, field by column. */
const COMPARED: readonly (readonly [string, Readonly<Record<string, string>>])[] = [
  ['galvanic-series', { key: 'key', lowVSce: 'low_v_sce', highVSce: 'high_v_sce' }],
  ['galvanic-series-small-craft', { key: 'key', vAgAgcl: 'v_ag_agcl_seawater' }],
  [
    'anode-alloys',
    {
      key: 'key',
      densityGPerCm3: 'density_g_cm3',
      densityLowGPerCm3: 'density_low',
      densityHighGPerCm3: 'density_high',
      theoreticalAhPerKg: 'theoretical_ah_kg',
      practicalAhPerKg: 'practical_ah_kg',
      closedCircuitVAgAgcl: 'closed_circuit_v_ag_agcl',
      suitsSalt: 'salt',
      suitsBrackish: 'brackish',
      suitsFresh: 'fresh',
    },
  ],
  [
    'protection-criteria',
    {
      metal: 'metal',
      condition: 'condition',
      protectedAtOrBelowV: 'protected_at_or_below_v',
      notBelowV: 'not_below_v',
    },
  ],
  ['electrode-conversion', { key: 'key', vShe: 'v_she_25c' }],
  [
    'current-demand',
    {
      metal: 'metal',
      environment: 'environment',
      initialAPerM2: 'initial_a_m2',
      meanAPerM2: 'mean_a_m2',
      finalAPerM2: 'final_a_m2',
    },
  ],
  ['coating-breakdown', { category: 'category', depth: 'depth_m', a: 'a', bPerYear: 'b_per_year' }],
  ['anode-utilisation', { shape: 'shape', utilisationFactor: 'rp_b401_utilisation_factor' }],
]

describe.each(COMPARED)('%s', (name, columns) => {
  const fixture = csvRows(`${name}.csv`)

  it('has every row that was read, with its figures', () => {
    const served = items(name).map(({ values }) =>
      Object.fromEntries(Object.keys(columns).map((field) => [field, values[field]])),
    )
    const wanted = fixture.map((row) =>
      Object.fromEntries(
        Object.entries(columns).map(([field, column]) => {
          const cell = row[column]
          return [field, cell !== '' && Number.isNaN(Number(cell)) ? cell : number(cell)]
        }),
      ),
    )
    expect(served).toEqual(wanted)
  })

  it('is as sure of each row as its reader was', () => {
    expect(items(name).map(({ status }) => status)).toEqual(fixture.map((row) => row.status))
  })
})

describe('thresholds, signs and safety', () => {
  const fixture = JSON.parse(read('thresholds.json')) as Record<string, { id: string; value: unknown; text: string }[]>
  const wanted = Object.values(fixture).flat()
  const served = [...items('thresholds'), ...items('signs-and-safety')]

  it('are the rules that were read, word for word', () => {
    const texts = new Map(served.map(({ values }) => [values.key, [values.value ?? null, values.text]]))
    expect(texts.size).toBe(wanted.length)
    for (const { id, value, text } of wanted) expect([id, ...texts.get(id)!]).toEqual([id, value, text])
  })
})

describe('densities', () => {
  const { densities_g_cm3, fluid_kg_m3 } = JSON.parse(read('densities.json')) as {
    densities_g_cm3: { key: string; typical: number; low: number; high: number }[]
    fluid_kg_m3: { t_c: number; density: number }[]
  }

  it('of metals and of waters are those that were read', () => {
    expect(
      items('metal-densities').map(({ values: { key, typicalGPerCm3, lowGPerCm3, highGPerCm3 } }) => [
        key,
        typicalGPerCm3,
        lowGPerCm3,
        highGPerCm3,
      ]),
    ).toEqual(densities_g_cm3.map(({ key, typical, low, high }) => [key, typical, low, high]))
    expect(items('water-densities').map(({ values }) => [values.temperatureC, values.densityKgPerM3])).toEqual(
      fluid_kg_m3.map(({ t_c, density }) => [t_c, density]),
    )
  })
})
