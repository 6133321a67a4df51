import { parentPort } from 'node:worker_threads'
import { forecastFleet } from '../engine/forecast/fleet-forecast.js'
import type { ForecastReply, ForecastRequest } from './forecast-thread.js'

// The other side of `ForecastThread`: one request after another, so that a fit never holds up the thread that serves.
parentPort?.on('message', ({ id, history, asOf }: ForecastRequest) => {
  parentPort?.postMessage(reply(id, () => forecastFleet(history, asOf)))
})

function reply(id: number, work: () => ReturnType<typeof forecastFleet>): ForecastReply {
  try {
    return { id, forecast: work() }
  } catch (error) {
    const { name, message, stack } = error instanceof Error ? error : new Error(String(error))
    return { id, failure: { name, message, stack } }
  }
}
