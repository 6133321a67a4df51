import { GRAMS_PER_UNIT } from '../../contract/grams.js'
import type { MassUnit } from '../../contract/vocabulary.js'
import { type Language, localeOf } from '../../messages/languages.js'
import type { NextLift } from '../../presentation/next-lift.js'
import { longDays } from '../words/long-day.js'
import { positionLabels } from '../words/position-label.js'
import { spokenIn } from '../words/spoken.js'

/** How the reader of a letter likes to read. */
export interface Reading {
  readonly language: Language
  /** `null`: grams, and kilograms above one. */
  readonly massUnit: MassUnit | null
}

/** What letters say in a language. */
export class LetterWords {
  readonly t
  readonly owner
  readonly day
  readonly position
  readonly language: Language
  readonly #locale: string
  readonly #massUnit: MassUnit | null

  constructor({ language, massUnit }: Reading) {
    this.language = language
    this.t = spokenIn(language, 'letters')
    this.owner = spokenIn(language, 'owner')
    this.day = longDays(language)
    this.position = positionLabels(language)
    this.#locale = localeOf(language, [])
    this.#massUnit = massUnit
  }

  month(at: Date): string {
    return new Intl.DateTimeFormat(this.#locale, { month: 'short', year: '2-digit', timeZone: 'UTC' }).format(at)
  }

  mass(grams: number, digits = 3): string {
    const unit = this.#massUnit ?? (Math.abs(grams) < GRAMS_PER_UNIT.kg ? 'g' : 'kg')
    const number = new Intl.NumberFormat(this.#locale, { maximumSignificantDigits: digits, useGrouping: false })
    return `${number.format(grams / GRAMS_PER_UNIT[unit])} ${unit}`
  }

  /** A part as it is ordered. @example '2 × 1.3 kg zinc, shaft collar' */
  part({ alloy, shape, massG, count }: NextLift['parts'][number]): string {
    const said = {
      alloy: alloy === null ? this.owner('order.noAlloy') : this.owner(`alloy.${alloy}`, { ns: 'words' }),
      shape: shape === null ? this.owner('order.noShape') : this.#shape(shape),
    }
    const part =
      massG === null
        ? this.owner('order.noMass', said)
        : this.owner('order.part', { ...said, mass: this.mass(massG, 2) })
    return this.t('order.item', { count, part })
  }

  /** A shape of the list in the reader's language, a yard's own as it is. */
  #shape(shape: string): string {
    const said = this.owner(`shape.${shape}` as 'shape.block')
    return said === `shape.${shape}` ? shape : said
  }
}
