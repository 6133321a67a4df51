import { describe, expect, it } from 'vitest'
import { generateFleet } from '../../seed/scenario/fleet.js'
import { knownBy } from '../../src/engine/forecast/anode-outlook.js'
import { forecastFleet } from '../../src/engine/forecast/fleet-forecast.js'
import { dayNumber } from '../../src/services/dates/day-numbers.js'
import { readFleetFiles } from '../../src/services/fleet-files/read-fleet-files.js'
import { recordedFleetOf } from '../../src/services/fleet-files/recorded-fleet.js'
import { fleetHistoryOf } from '../../src/services/model/fleet-history.js'

async function forecastsOn(today: string) {
  const files = [...generateFleet(today)].map(([name, text]) => ({ name, content: bytesOf(text) }))
  const day = dayNumber(today)
  const history = knownBy(fleetHistoryOf(recordedFleetOf(await readFleetFiles(files))), day, day)
  return forecastFleet(history, day)
}

async function* bytesOf(text: string): AsyncGenerator<Uint8Array> {
  yield new TextEncoder().encode(text)
}

describe('the demo fleet', () => {
  // Its masses are read by scale, calipers and eye, some with losses near zero: errors of very unlike size.
  it.each(['2026-11-25', '2027-03-08', '2027-07-19'])('is fitted and forecast on %s', async (today) => {
    const { anodes, summary } = await forecastsOn(today)
    expect(anodes.length).toBeGreaterThan(100)
    expect(summary.intervals).toBeGreaterThan(700)
    for (const { forecast } of anodes) {
      expect(Number.isFinite(forecast.massNow.p50)).toBe(true)
      expect(forecast.riskBeforeNextHaulOut).toBeGreaterThanOrEqual(0)
    }
  })

  it('shows anodes that go abnormally fast, spent in about five months', async () => {
    const { anodes } = await forecastsOn('2026-11-25')
    expect(anodes.filter(({ forecast }) => forecast.wear?.judgement === 'fast').length).toBeGreaterThan(0)
  })
})
