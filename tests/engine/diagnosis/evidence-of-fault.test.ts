import { beforeAll, describe, expect, it } from 'vitest'
import type { Anomaly } from '../../../src/engine/diagnosis/anomaly.js'
import { type FleetView, viewFleet } from '../../../src/engine/diagnosis/evidence/fleet-view.js'
import { evidenceOfFault, supportsFault } from '../../../src/engine/diagnosis/evidence-of-fault.js'
import { anomaly, keyOf, look, smallFleet } from './small-fleet.js'

const SHAFT = keyOf('Tern', 'shaft')
const FAST = anomaly({ scope: 'anode', direction: 'fast', anodes: [SHAFT] })

function fleetWith(conditions: readonly string[]): FleetView {
  const { model, facts } = smallFleet({
    looks: (key) => (key === SHAFT && conditions.length > 0 ? [look({ conditions })] : []),
  })
  return viewFleet(model, facts)
}

describe('evidenceOfFault', () => {
  let broken: FleetView
  let silent: FleetView
  beforeAll(() => {
    broken = fleetWith(['broken'])
    silent = fleetWith([])
  })

  it('speaks for a fault where a fast anode was seen broken', () => {
    expect(evidenceOfFault(broken, FAST)).toBeGreaterThan(5)
    expect(evidenceOfFault(broken, FAST)).toBeGreaterThan(evidenceOfFault(silent, FAST))
  })

  it('makes an anomaly of a middling surprise with a break, not of either alone', () => {
    const supports = (fleet: FleetView, p: number, of: Anomaly = FAST) => supportsFault(fleet, p, () => of)
    expect(supports(broken, 0.02)).toBe(true)
    expect(supports(silent, 0.02)).toBe(false)
    expect(supports(broken, 0.5)).toBe(false)
  })

  it('never asks less of a commoner surprise', () => {
    const rare = [0.3, 0.2, 0.1, 0.03, 0.01, 0.001, 1e-9, 0].map((p) => Number(supportsFault(broken, p, () => FAST)))
    expect(rare).toEqual([...rare].sort((a, b) => a - b))
    expect(rare.at(-1)).toBe(1)
  })
})
