import { parentPort } from 'node:worker_threads'
import { FittedFleets } from '../services/model/fitted-fleets.js'
import type { ForecastReply, ForecastRequest } from './forecast-thread.js'

const fleets = new FittedFleets()

// The other side of `ForecastThread`: one request after another, so that a fit never holds up the thread that serves.
parentPort?.on('message', async (request: ForecastRequest) => {
  parentPort?.postMessage(await reply(request))
})

async function reply(request: ForecastRequest): Promise<ForecastReply> {
  try {
    return { id: request.id, answer: await answer(request) }
  } catch (error) {
    const { name, message, stack } = error instanceof Error ? error : new Error(String(error))
    return { id: request.id, failure: { name, message, stack } }
  }
}

function answer(request: ForecastRequest): Promise<unknown> {
  switch (request.what) {
    case 'compute':
      return fleets.compute(...request.given)
    case 'plan':
      return fleets.plan(...request.given)
    case 'update':
      return fleets.update(...request.given)
    case 'diagnose':
      return fleets.diagnose(...request.given)
  }
}
