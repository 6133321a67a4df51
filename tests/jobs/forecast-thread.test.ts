import { afterAll, describe, expect, it } from 'vitest'
import { forecastFleet } from '../../src/engine/forecast/fleet-forecast.js'
import { ForecastThread } from '../../src/jobs/forecast-thread.js'
import { simulateFleet, Uniform } from '../engine/simulated-fleet.js'

const SPREAD = { boat: 0.2, berth: 0.2, anode: 0.1, residual: 0.1, scaleG: 5 }
const fleetOf = (boats: number) => simulateFleet(new Uniform(7), boats, 4, SPREAD)

describe('ForecastThread', () => {
  const thread = new ForecastThread()
  afterAll(() => thread.close())

  it('computes what the engine computes, beside the thread that asks', async () => {
    const { fleet, asOf } = fleetOf(12)
    let turns = 0
    const counting = setInterval(() => turns++, 1)
    const forecast = await thread.compute(fleet, asOf)
    clearInterval(counting)
    expect(forecast).toEqual(forecastFleet(fleet, asOf))
    expect(turns).toBeGreaterThan(10)
  })

  it('breaks off what it computes when it is closed, and takes nothing more', async () => {
    const closing = new ForecastThread()
    const { fleet, asOf } = fleetOf(60)
    const broken = closing.compute(fleet, asOf)
    const refused = expect(broken).rejects.toThrow('the forecast thread ended')
    await closing.close()
    await refused
    await expect(closing.compute(fleet, asOf)).rejects.toThrow('the forecast thread is closed')
  })
})
