import type { ForecastItem } from '../../contract/forecasts.js'
import type { FleetRecords } from '../../db/repositories/fleet-records.js'
import type { IssuedForecast } from '../../db/repositories/forecasts.js'
import type { FleetForecast } from '../../engine/forecast/fleet-forecast.js'
import type { AnodeForecast, CrossingDays } from '../../engine/forecast/forecast-anode.js'
import { calendarDay } from '../dates/day-numbers.js'

/** The engine's forecasts with the names and dates that people use. */
export function issuedForecasts(
  records: FleetRecords,
  { anodes, asOf }: Pick<FleetForecast, 'anodes' | 'asOf'>,
): IssuedForecast[] {
  const name = namer(records, calendarDay(asOf))
  return anodes.map(({ key, forecast, outlook }) => ({ anodeId: key, item: name(key, forecast), outlook }))
}

/** One of them. */
export function forecastItem(records: FleetRecords, asOf: string, key: string, forecast: AnodeForecast): ForecastItem {
  return namer(records, asOf)(key, forecast)
}

function namer(records: FleetRecords, day: string) {
  const rows = new Map(records.anodes.map((row) => [row.anode.id, row]))
  const boatNames = new Map(records.boats.map(({ id, name }) => [id, name]))
  const berthNames = latestBerths(records, day)
  return (key: string, forecast: AnodeForecast): ForecastItem => {
    const { anode, position } = rows.get(key)!
    const { massNow, consumedNow, threshold, riskBeforeNextHaulOut, rate, basis, wear } = forecast
    return {
      boat: boatNames.get(anode.boatId)!,
      anode: anode.name,
      position: position.label,
      alloy: anode.alloy,
      berth: berthNames.get(anode.boatId) ?? null,
      asOf: day,
      massNow,
      consumedNow,
      threshold,
      replace: replaceDates(forecast.replace),
      recommendedOn: dayOrNull(forecast.recommendedOn),
      riskBeforeNextHaulOut,
      nextHaulOut: { on: calendarDay(forecast.nextHaulOut.on), planned: forecast.nextHaulOut.planned },
      haulOutRisks: forecast.haulOutRisks.map(({ on, risk }) => ({ on: calendarDay(on), risk })),
      rate,
      basis,
      wear,
    }
  }
}

/** By boat: the berth where it lies, or lay last before it was lifted. */
function latestBerths(records: FleetRecords, day: string): Map<string, string> {
  const names = new Map(records.berths.map(({ id, name }) => [id, name]))
  const latest = new Map<string, string>()
  // Stays come in order of time, so that the last one counts.
  for (const { boatId, berthId, fromOn } of records.stays) {
    const name = berthId === null ? undefined : names.get(berthId)
    if (name !== undefined && fromOn <= day) latest.set(boatId, name)
  }
  return latest
}

function replaceDates(days: CrossingDays): ForecastItem['replace'] {
  return {
    p05: dayOrNull(days.p05),
    p10: dayOrNull(days.p10),
    p50: dayOrNull(days.p50),
    p90: dayOrNull(days.p90),
    p95: dayOrNull(days.p95),
  }
}

function dayOrNull(day: number | null): string | null {
  return day === null ? null : calendarDay(day)
}
