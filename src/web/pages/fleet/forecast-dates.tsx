import type { Forecast } from '../../api/forecasts.js'
import { sayDay, sayDayOrLater, sayDistance, saySpan } from '../../wording/days.js'

/** When the threshold is expected, and the span that holds 8 of 10. */
export function ExpectedDate({ forecast: { replace, asOf } }: { forecast: Forecast }) {
  if (replace.p90 !== null && replace.p90 <= asOf) return <strong className="date-past">Threshold reached</strong>
  return (
    <>
      <span className="unseen">Threshold expected: </span>
      <strong>{sayDayOrLater(replace.p50)}</strong> <span className="soft">({saySpan(replace.p10, replace.p90)})</span>
    </>
  )
}

/** By when to replace it, and how far off that is. */
export function RecommendedDate({ forecast }: { forecast: Forecast }) {
  const { recommendedOn, asOf } = forecast
  if (recommendedOn === null) return <strong>No date yet</strong>
  if (recommendedOn <= asOf) {
    return (
      <span>
        <strong className="date-past">Now</strong>
        <span className="soft small">
          {recommendedOn < asOf ? `was ${sayDay(recommendedOn)}` : 'at the next chance'}
        </span>
      </span>
    )
  }
  return (
    <span>
      <strong>{sayDay(recommendedOn)}</strong>
      <span className="soft small">{sayDistance(asOf, recommendedOn)}</span>
    </span>
  )
}
