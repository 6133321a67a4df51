import type { FindingItem } from '../../contract/findings.js'
import type { GalvanicAuditView } from '../../contract/galvanic.js'
import { GRAMS_PER_UNIT } from '../../contract/grams.js'
import type { SaidView } from '../../contract/said.js'
import type { Alloy, ConfirmableCause, Hull, MassUnit, WeighingMethod } from '../../contract/vocabulary.js'
import { type Language, localeOf } from '../../messages/languages.js'
import { daysBetween, instantOf } from '../../presentation/calendar.js'
import { positionLabels } from '../words/position-label.js'
import { reasonIn } from '../words/sentences.js'
import { spokenIn } from '../words/spoken.js'

/** How the reader of a paper likes to read. */
export interface PaperReading {
  readonly language: Language
  /** `null`: grams, and kilograms above one. */
  readonly massUnit: MassUnit | null
}

/** Something that must be minded, in English, and by what it is said in another language. */
export type PaperCaution = { readonly text: string } & (
  | { readonly of: 'text' }
  /** A row of the signs and safety rules, or of the galvanic cautions. */
  | { readonly of: 'rule' | 'metals'; readonly key: string }
  | { readonly of: 'reason'; readonly reasons: readonly SaidView[] }
)

/** What papers say in a language. */
export class PaperWords {
  readonly t
  readonly position
  readonly language: Language
  readonly #findings
  readonly #checks
  readonly #galvanic
  readonly #massUnit: MassUnit | null
  readonly #locale: string
  readonly #day: Intl.DateTimeFormat
  readonly #month: Intl.DateTimeFormat

  constructor({ language, massUnit }: PaperReading) {
    this.language = language
    this.t = spokenIn(language, 'report')
    this.position = positionLabels(language)
    this.#findings = spokenIn(language, 'findings')
    this.#checks = spokenIn(language, 'checks')
    this.#galvanic = spokenIn(language, 'galvanic')
    this.#massUnit = massUnit
    this.#locale = localeOf(language, [])
    const day = { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' } as const
    this.#day = new Intl.DateTimeFormat(this.#locale, day)
    this.#month = new Intl.DateTimeFormat(this.#locale, { month: 'short', year: '2-digit', timeZone: 'UTC' })
  }

  /** @example day('2031-10-02') // '2 Oct 2031' */
  day(day: string): string {
    return this.#day.format(instantOf(day))
  }

  month(at: Date): string {
    return this.#month.format(at)
  }

  span(from: string | null, to: string | null): string {
    if (from === null) return this.t('beyond', { ns: 'words' })
    if (to === null) return this.t('orLater', { ns: 'words', day: this.day(from) })
    return daysBetween(from, to) === 0 ? this.day(from) : `${this.day(from)} – ${this.day(to)}`
  }

  /** In the reader's unit; else grams below a kilogram, kilograms above. @example mass(1234) // '1.23 kg' */
  mass(grams: number): string {
    const unit = this.#massUnit ?? (Math.abs(grams) < GRAMS_PER_UNIT.kg ? 'g' : 'kg')
    if (unit === 'g') return `${Math.round(grams)} g`
    const decimals = unit === 'oz' ? 1 : 2
    const style = { minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping: false }
    return `${(grams / GRAMS_PER_UNIT[unit]).toLocaleString(this.#locale, style)} ${unit}`
  }

  /** @example percent(0.374) // '37 %' */
  percent(share: number): string {
    const percent = share * 100
    if (percent > 0 && percent < 1) return this.t('under1', { ns: 'words' })
    if (percent > 99 && percent < 100) return this.t('over99', { ns: 'words' })
    return `${Math.round(percent)} %`
  }

  alloy(alloy: Alloy): string {
    return this.t(`alloy.${alloy}`, { ns: 'words' })
  }

  hull(hull: Hull): string {
    return this.t(`hull.${hull}`, { ns: 'words' })
  }

  /** A shape of the list in the reader's language, a yard's own as it is. */
  shape(shape: string): string {
    return this.#known(`shape.${shape}`, shape, (key) => this.t(key as 'shape.block', { ns: 'words' }))
  }

  /** How a mass was found where no scale told it. */
  method(method: WeighingMethod): string {
    return method === 'scale' ? '' : this.t(`method.${method}`)
  }

  /** A code of a newer service is said as it is. */
  conditions(codes: readonly string[]): string {
    const say = (code: string) =>
      this.#known(`condition.${code}`, code, (key) => this.t(key as 'condition.even', { ns: 'words' }))
    return codes.map((code) => this.#within(say(code))).join(', ')
  }

  /** What a finding is about, in one line. @example 'shaft 2 wastes fast, since about 3 May 2031' */
  finding({ scope, anode, direction, onset, since }: FindingItem): string {
    const began =
      onset === null
        ? this.t('began.first', { day: this.day(since) })
        : this.t('began.about', { day: this.day(onset.p50) })
    if (direction === 'other') return this.t('finding.other', { what: anode ?? this.t('theBoat'), began })
    if (scope === 'anode' && anode !== null) return this.t(`finding.one.${direction}`, { what: anode, began })
    return this.t(`finding.many.${direction}`, { what: this.t(`who.${scope}`), began })
  }

  /** The cause confirmed, else the likeliest with its probability. */
  cause({ causes, confirmedCause }: FindingItem): string {
    if (confirmedCause !== null) return this.t('cause.confirmed', { cause: this.#cause(confirmedCause) })
    const [first] = causes
    if (first === undefined) return this.t('cause.none')
    return this.t('cause.likeliest', {
      cause: this.#cause(first.cause),
      percent: this.percent(first.probability),
    })
  }

  #cause(cause: ConfirmableCause): string {
    return this.#within(this.#findings(`cause.${cause}.name`))
  }

  nextCheck(next: FindingItem['nextCheck']): string {
    if (next === null) return this.t('check.none')
    const title = this.#check(`title.${next.check}`, next.title)
    const how = this.#check(`how.${next.check}`, next.how.join('\n')).split('\n')
    return this.t('check.next', { title: /[.!?]$/.test(title) ? title : `${title}.`, how: how.join(' ') })
  }

  /** In the reader's language; what has no words there stands as it is. */
  caution(caution: PaperCaution): string {
    if (caution.of === 'text') return caution.text
    if (caution.of === 'reason') return reasonIn(this.language)(caution.reasons)
    const { key, text } = caution
    if (caution.of === 'rule') return this.#check(`safety.${key}`, text)
    return this.#known(`caution.${key}`, text, (each) => this.#galvanic(each as 'caution.carbon'))
  }

  /** Two metals in the same water: how bad, which, and why. */
  pair({ grade, anode, cathode, reasons }: GalvanicAuditView['pairs'][number]): string {
    const metals = this.#galvanic('pair.head', {
      anode: this.#metalWithin(anode.metal),
      cathode: this.#metalWithin(cathode.metal),
    })
    return `${this.#galvanic(`grade.${grade}`)}: ${metals}. ${reasonIn(this.language)(reasons)}`
  }

  /** Without what the series adds in brackets. */
  #metalWithin(key: string): string {
    const name = this.#known(`metal.${key}`, key, (each) => this.#galvanic(each as 'metal.zinc'))
    return this.#within(name.replace(/ \(.*\)$/, ''))
  }

  #check(key: string, otherwise: string): string {
    return this.#known(key, otherwise, (each) => this.#checks(each as 'safety.rescue'))
  }

  /** On what a rate rests, the largest share first. */
  basis(basis: Readonly<Record<(typeof BASES)[number], number>>): string {
    return BASES.filter((key) => basis[key] >= LEAST_SHARE)
      .toSorted((a, b) => basis[b] - basis[a])
      .map((key) => this.t('basis.share', { percent: this.percent(basis[key]), what: this.t(`basis.${key}`) }))
      .join(', ')
  }

  /** What the words do not have is said as it is. */
  #known(key: string, otherwise: string, say: (key: string) => string): string {
    const said = say(key)
    return said === key ? otherwise : said
  }

  /** A word as it stands in the middle of a sentence: German keeps the capitals of its nouns. */
  #within(word: string): string {
    return this.language === 'de' ? word : word.charAt(0).toLocaleLowerCase(this.#locale) + word.slice(1)
  }
}

const BASES = ['anode', 'boat', 'fleet', 'physics'] as const

/** Below this a share is not worth a word. */
const LEAST_SHARE = 0.005

/** @example capital('shaft') // 'Shaft' */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
