import { inFutureDetail, isInFuture } from '../dates/not-in-future.js'
import { Invalid } from '../errors.js'

/**
 * Refuses a reading taken on a day that no dock on earth has reached.
 *
 * @param measuredAt instant with `Z` or an offset
 * @throws Invalid
 */
export function refuseFutureReading(measuredAt: string, today: string): void {
  const day = new Date(measuredAt).toISOString()
  if (isInFuture(day, today)) throw new Invalid([{ pointer: '#/measuredAt', detail: inFutureDetail(day) }])
}
