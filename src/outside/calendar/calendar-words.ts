import type { FeedScope } from '../../contract/calendar-feeds.js'
import type { ForecastItem } from '../../contract/forecasts.js'
import type { Language } from '../../messages/languages.js'
import { longDays } from '../words/long-day.js'
import { positionLabels } from '../words/position-label.js'
import { spokenIn } from '../words/spoken.js'

/** An anode that comes due, with its names of today. */
export interface DueAnode {
  readonly boat: string
  readonly anode: string
  readonly position: string
  readonly forecast: ForecastItem
  readonly isOverdue: boolean
}

export interface LiftToSay {
  readonly boat: string
  /** The anodes that are to be replaced at this lift. */
  readonly replace: readonly DueAnode[]
  /** What was to be done then is not known any more. */
  readonly isOver: boolean
}

interface Said {
  readonly summary: string
  readonly description: string
  readonly category: string
}

/** What calendars say in a language. */
export class CalendarWords {
  readonly #day: (day: string) => string
  readonly #position: (label: string) => string
  readonly #said = new Map<string, string>()
  readonly #t

  constructor(language: Language) {
    this.#t = spokenIn(language, 'calendar')
    this.#day = longDays(language)
    this.#position = positionLabels(language)
  }

  /** Name and description of a calendar. */
  calendar(scope: FeedScope, yard: string): { readonly name: string; readonly description: string } {
    const said = { yard }
    return { name: this.#t(`name.${scope}`, said), description: this.#t(`about.${scope}`, said) }
  }

  due({ boat, anode, position, forecast, isOverdue }: DueAnode): Said {
    const lines = [
      this.#band(forecast),
      this.#plan(forecast, isOverdue),
      this.#t('due.anode', { anode, position: this.#position(position), alloy: this.#alloy(forecast) }),
      this.#t('due.caution'),
    ]
    return {
      summary: this.#t(isOverdue ? 'due.titleNow' : 'due.title', { boat, position: this.#position(position) }),
      description: lines.join('\n'),
      category: this.#t('due.category'),
    }
  }

  lift({ boat, replace, isOver }: LiftToSay): Said {
    const anodes = replace.map(({ anode, position, forecast }) =>
      this.#t('lift.anode', { anode, position: this.#position(position), alloy: this.#alloy(forecast) }),
    )
    const work = anodes.length === 0 ? [this.#t('lift.none')] : [this.#t('lift.replace'), ...anodes]
    return {
      summary: this.#t('lift.title', { boat }),
      description: isOver ? '' : [...work, this.#t('lift.weigh')].join('\n'),
      category: this.#t('lift.category'),
    }
  }

  #band({ replace: { p10, p50, p90 } }: ForecastItem): string {
    // An anode without an earliest date has no day in a calendar.
    const from = this.#say(p10 ?? '')
    if (p50 === null) return this.#t('due.earliest', { from })
    const said = { from, middle: this.#say(p50) }
    return p90 === null ? this.#t('due.bandOpen', said) : this.#t('due.band', { ...said, to: this.#say(p90) })
  }

  #plan({ recommendedOn, nextHaulOut, haulOutRisks }: ForecastItem, isOverdue: boolean): string {
    if (isOverdue) return this.#t('due.overdue')
    const isPlanned =
      haulOutRisks.some(({ on }) => on === recommendedOn) || (nextHaulOut.planned && nextHaulOut.on === recommendedOn)
    return this.#t(isPlanned ? 'due.planned' : 'due.unplanned')
  }

  #alloy({ alloy }: ForecastItem): string {
    return alloy === null ? this.#t('due.noAlloy') : this.#t(`alloy.${alloy}`, { ns: 'words' })
  }

  /** Many anodes of a fleet share a day. */
  #say(day: string): string {
    const said = this.#said.get(day) ?? this.#day(day)
    this.#said.set(day, said)
    return said
  }
}
