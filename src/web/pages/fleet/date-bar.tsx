import type { Forecast } from '../../api/forecasts.js'
import { dateFormat } from '../../wording/locale.js'
import { type DateAxis, placeOn, quartersOn, spanOn } from './date-axis.js'
import { t } from './fleet-words.js'
import './date-bar.css'

const percent = (share: number) => `${(share * 100).toFixed(2)}%`

interface DateBarProps {
  axis: DateAxis
  forecast: Forecast
}

/** The span in which replacement is expected, drawn on the shared calendar. Its text stands beside it. */
export function DateBar({ axis, forecast }: DateBarProps) {
  const { replace, asOf, nextHaulOut } = forecast
  const span = spanOn(axis, replace.p10, replace.p90)
  const middle = replace.p50 === null ? Number.NaN : placeOn(axis, replace.p50)
  const lift = nextHaulOut ? placeOn(axis, nextHaulOut.on) : Number.NaN
  return (
    <svg className="date-bar" width="100%" height="30" aria-hidden="true">
      <rect x="0" y="11" width="100%" height="8" rx="4" className="date-bar-water" />
      {quartersOn(axis).map((day) => (
        <line key={day} x1={percent(placeOn(axis, day))} x2={percent(placeOn(axis, day))} y1="11" y2="19" />
      ))}
      {span && (
        <rect
          x={percent(span.start)}
          width={percent(Math.max(span.end - span.start, 0.012))}
          y="8"
          height="14"
          rx={span.cut === null ? 4 : 1}
          className="date-bar-span"
        />
      )}
      <OnAxis at={placeOn(axis, asOf)}>
        <rect x="-1" y="1" width="2" height="28" className="date-bar-today" />
      </OnAxis>
      <OnAxis at={lift}>
        <path d="M-6 0H6L0 8Z" className="date-bar-lift" />
      </OnAxis>
      <OnAxis at={middle}>
        <rect x="-2.5" y="4" width="5" height="22" rx="1.500" className="date-bar-middle" />
      </OnAxis>
      {span === null && <OffAxis late={replace.p10 === null || placeOn(axis, replace.p10) > 1} />}
    </svg>
  )
}

/** The calendar's months, once above all rows. */
export function DateScale({ axis, asOf }: { axis: DateAxis; asOf: string }) {
  return (
    <svg className="date-scale" width="100%" height="34" aria-hidden="true">
      <text x={percent(placeOn(axis, asOf))} y="12" textAnchor="middle" className="date-scale-today">
        {t('today')}
      </text>
      {quartersOn(axis).map((day) => (
        <text key={day} x={percent(placeOn(axis, day))} y="29" textAnchor="middle">
          {day.slice(5, 7) === '01'
            ? day.slice(0, 4)
            : dateFormat({ month: 'short', timeZone: 'UTC' }).format(Date.parse(day))}
        </text>
      ))}
    </svg>
  )
}

function OnAxis({ at, children }: { at: number; children: React.ReactNode }) {
  if (!(at >= 0 && at <= 1)) return null
  return (
    <svg x={percent(at)} overflow="visible" aria-hidden="true">
      {children}
    </svg>
  )
}

function OffAxis({ late }: { late: boolean }) {
  return (
    <svg x={late ? '100%' : '0'} overflow="visible" aria-hidden="true">
      <path d={late ? 'M-13 8l8 7-8 7z' : 'M13 8l-8 7 8 7z'} className="date-bar-middle" />
    </svg>
  )
}
