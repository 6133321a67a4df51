import type { ForecastItem } from '../../src/contract/forecasts.js'

/** A forecast in which only what a test is about is said. */
export function forecastOf(part: Partial<ForecastItem>, dates: Partial<ForecastItem['replace']> = {}): ForecastItem {
  return {
    boat: 'Wren',
    anode: 'shaft 1',
    position: 'shaft',
    alloy: 'zinc',
    berth: null,
    asOf: '2031-04-18',
    massNow: { p10: 780, p50: 800, p90: 820 },
    consumedNow: 0.3,
    threshold: 0.5,
    replace: { p05: null, p10: null, p50: null, p90: null, p95: null, ...dates },
    recommendedOn: null,
    riskBeforeNextHaulOut: 0,
    nextHaulOut: { on: '2031-10-01', planned: true },
    haulOutRisks: [{ on: '2031-10-01', risk: 0 }],
    rate: { p10: 0.8, p50: 1, p90: 1.3 },
    basis: { physics: 0.1, fleet: 0.2, boat: 0.3, anode: 0.4 },
    wear: null,
    ...part,
  }
}
