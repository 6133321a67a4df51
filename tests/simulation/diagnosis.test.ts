import { beforeAll, describe, expect, it } from 'vitest'
import type { Cause } from '../../src/engine/diagnosis/causes.js'
import type { Diagnosis } from '../../src/engine/diagnosis/diagnosis.js'
import { type AbnormalFleet, simulateAbnormalFleet } from './faults/abnormal-fleet.js'
import { diagnoseFiles } from './faults/diagnose-files.js'
import { scoreFindings, topCause } from './faults/score-findings.js'

const DRAWS = [
  { start: 3, coast: 'southern', boats: 20, years: 6, wear: 'much' },
  { start: 9, coast: 'enclosed', boats: 20, years: 6, wear: 'much' },
  { start: 12, coast: 'temperate', boats: 20, years: 6, wear: 'much' },
] as const

/** Of about ten visible ones: three standard errors below nine in ten found, and below 85 % right. The fleets are fixed. */
const LEAST_FOUND = 0.6
const LEAST_RIGHT = 0.5

describe('a fleet with physical faults', () => {
  const draw = { start: 7, coast: 'enclosed', boats: 12, years: 5, wear: 'usual' } as const
  const fleet = simulateAbnormalFleet(draw)

  it('is the same from the same start', () => {
    expect(simulateAbnormalFleet(draw).rows).toEqual(fleet.rows)
  })

  it('has none where none is drawn', () => {
    expect(simulateAbnormalFleet({ ...draw, wear: 'clean' }).faults).toEqual([])
  })

  it('writes evidence of healthy boats too, on other days than it writes masses', () => {
    const { rows } = simulateAbnormalFleet({ ...draw, wear: 'clean' })
    const looks = rows['weighings.csv']!
    const share = looks.filter(({ condition }) => condition.length > 0).length / looks.length
    expect(share).toBeGreaterThan(0.2)
    expect(share).toBeLessThan(0.6)
    expect(rows['potentials.csv']!.length).toBeGreaterThan(10)
    expect(rows['continuity.csv']!.length).toBeGreaterThan(10)
  })

  it('wears faster under a stray current and slower without contact', () => {
    const visible = DRAWS.flatMap((each) => simulateAbnormalFleet(each).faults).filter(({ isVisible }) => isVisible)
    const ways = (cause: Cause) => visible.filter((fault) => fault.cause === cause).map(({ directions }) => directions)
    expect(ways('stray-current-onboard').length).toBeGreaterThan(0)
    for (const directions of ways('stray-current-onboard')) expect(directions).toEqual(['fast'])
    expect(ways('no-electrical-contact').length).toBeGreaterThan(0)
    for (const directions of ways('no-electrical-contact')) expect(directions).toContain('slow')
  })
})

describe('the diagnosis on fleets with physical faults', () => {
  let scored: { fleet: AbnormalFleet; diagnoses: Diagnosis[] }[]

  beforeAll(async () => {
    scored = await Promise.all(
      DRAWS.map(async (draw) => {
        const fleet = simulateAbnormalFleet(draw)
        return { fleet, diagnoses: await diagnoseFiles(fleet.rows, fleet.asOf) }
      }),
    )
  })

  it('finds most of the visible ones and names most of their causes', () => {
    const faults = scored.flatMap(({ fleet, diagnoses }) => scoreFindings(fleet, diagnoses).faults)
    const visible = faults.filter(({ fault }) => fault.isVisible)
    const found = visible.filter(({ main }) => main !== null)
    expect(visible.length).toBeGreaterThan(5)
    expect(found.length / visible.length).toBeGreaterThan(LEAST_FOUND)
    expect(found.filter(({ fault, main }) => topCause(main!) === fault.cause).length / found.length).toBeGreaterThan(
      LEAST_RIGHT,
    )
  })

  it('gives each finding causes that add to 1', () => {
    for (const { causes } of scored.flatMap(({ diagnoses }) => diagnoses))
      expect(causes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 9)
  })
})
