import { afterAll, describe, expect, it } from 'vitest'
import { ForecastThread } from '../../src/jobs/forecast-thread.js'
import type { FleetQuestion } from '../../src/services/model/compute-forecasts.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { simulateFleet, Uniform } from '../engine/simulated-fleet.js'

/** Less than the thread needs to read its own program. */
const TOO_SMALL_MIB = 8
/** Each has twice the memory of the one before: the last of them 128 MiB. */
const MOST_TRIES = 5

const SPREAD = { boat: 0.2, berth: 0.2, anode: 0.1, residual: 0.1, scaleG: 5 }

function questionOf(boats: number): FleetQuestion {
  const { fleet, asOf } = simulateFleet(new Uniform(7), boats, 4, SPREAD)
  const facts = { berths: [], boats: [] }
  return { history: fleet, asOf, facts, falseDiscoveryRate: 0.05, checked: [] }
}

describe('ForecastThread', () => {
  const thread = new ForecastThread()
  afterAll(() => thread.close())

  it('computes what the engine computes, beside the thread that asks', async () => {
    const question = questionOf(12)
    let turns = 0
    const counting = setInterval(() => turns++, 1)
    const forecast = await thread.compute(question)
    clearInterval(counting)
    expect(forecast).toEqual(await new FittedFleets().compute(question))
    expect(turns).toBeGreaterThan(10)
  })

  it('breaks off what it computes when it is closed, and takes nothing more', async () => {
    const closing = new ForecastThread()
    const question = questionOf(60)
    const broken = closing.compute(question)
    const refused = expect(broken).rejects.toThrow('the forecast thread ended')
    await closing.close()
    await refused
    await expect(closing.compute(question)).rejects.toThrow('the forecast thread is closed')
  })

  it('is replaced by one with a larger heap where its own was too small: whoever asks again is answered', async () => {
    const small = new ForecastThread(TOO_SMALL_MIB)
    const question = questionOf(12)
    await expect(small.compute(question)).rejects.toThrow('memory limit')
    let tries = 0
    const askAgain = async (): Promise<unknown> => {
      tries += 1
      return small.compute(question).catch((error: Error) => {
        if (tries === MOST_TRIES || !error.message.includes('memory limit')) throw error
        return askAgain()
      })
    }
    expect(await askAgain()).toEqual(await new FittedFleets().compute(question))
    await small.close()
  })
})
