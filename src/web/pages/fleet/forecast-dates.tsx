import type { Forecast } from '../../api/forecasts.js'
import { sayDay, sayDayOrLater, sayDistance, saySpan } from '../../wording/days.js'
import { t } from './fleet-words.js'

/** When the threshold is expected, and the span that holds 8 of 10. */
export function ExpectedDate({ forecast: { replace, asOf } }: { forecast: Forecast }) {
  if (replace.p90 !== null && replace.p90 <= asOf) return <strong className="date-past">{t('reached')}</strong>
  return (
    <>
      <span className="unseen">{t('expected')} </span>
      <strong>{sayDayOrLater(replace.p50)}</strong> <span className="soft">({saySpan(replace.p10, replace.p90)})</span>
    </>
  )
}

/** By when to replace it, and how far off that is. */
export function RecommendedDate({ forecast }: { forecast: Forecast }) {
  const { recommendedOn, asOf } = forecast
  if (recommendedOn === null) return <strong>{t('noDate')}</strong>
  if (recommendedOn <= asOf) {
    return (
      <span>
        <strong className="date-past">{t('now')}</strong>
        <span className="soft small">
          {recommendedOn < asOf ? t('was', { day: sayDay(recommendedOn) }) : t('atNextChance')}
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

/** The day of a lift; one that nobody planned is only about then. */
export function sayLift({ on, planned }: NonNullable<Forecast['nextHaulOut']>): string {
  return planned ? sayDay(on) : t('about', { day: sayDay(on) })
}
