/** Areas that the words of keys stand in. */
type WordArea = 'words' | 'evidence' | 'galvanic' | 'checks'

/** How somebody reads: how numbers and days are written there, and what a key is called. */
export interface Speech {
  readonly locale: string
  readonly word: (area: WordArea, key: string) => string
}

type Value = string | number
type Format = (value: Value, speech: Speech) => string

const VOLT_DIGITS = { minimumFractionDigits: 2, maximumFractionDigits: 2 } as const
const MILLIVOLTS_PER_VOLT = 1000
/** The series and the tables have two digits; sums of such decimals may lie a last bit below a half. */
const LAST_BIT = 1e-9

/**
 * How the values of a sentence are written, by the name after the comma in its message: `{{volts, volts}}`. What is not on a list here is
 * written as it is. Numbers get the digits that a reader can use: two that count for an estimate, hundredths for potentials.
 */
export const SENTENCE_FORMATS: Readonly<Record<string, Format>> = {
  figure: (value, { locale }) => numberIn(locale, value, { maximumSignificantDigits: 2 }),
  whole: (value, { locale }) => numberIn(locale, value, { maximumFractionDigits: 0 }),
  plain: (value, { locale }) => (typeof value === 'string' ? value : numberIn(locale, value, {})),
  hundredths: (value, { locale }) => numberIn(locale, Number(value) + LAST_BIT, VOLT_DIGITS),
  volts: (value, { locale }) => `${numberIn(locale, value, VOLT_DIGITS)} V`,
  signedvolts: (value, { locale }) => `${Number(value) > 0 ? '+' : ''}${numberIn(locale, value, VOLT_DIGITS)} V`,
  millivolts: (value) => `${Math.round(Math.abs(Number(value)) * MILLIVOLTS_PER_VOLT)} mV`,
  times: (value, { locale }) => numberIn(locale, value, { maximumFractionDigits: Number(value) >= 10 ? 0 : 1 }),
  day: (value, { locale }) => {
    const style = { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' } as const
    return new Intl.DateTimeFormat(locale, style).format(Date.parse(String(value)))
  },
  alloy: (value, { word }) => word('words', `alloy.${value}`),
  alloyfirst: (value, { word, locale }) => first(word('words', `alloy.${value}`), locale),
  water: (value, { word }) => word('words', `water.${value}`),
  condition: (value, { word, locale }) => within(word('words', `condition.${value}`), locale),
  fitting: (value, { word }) => (value === '' ? word('words', 'bondedHull') : String(value)),
  part: (value, { word }) => (value === 'bond' ? word('words', 'bond') : String(value)),
  look: (value, { word }) => word('evidence', `look.${value}`),
  electrode: (value, { word }) => word('evidence', `electrode.${value}`),
  outcome: (value, { word }) => word('checks', `outcome.${value}`),
  metal: (value, { word, locale }) => within(word('galvanic', `metal.${value}`), locale),
  metalfirst: (value, { word }) => word('galvanic', `metal.${value}`),
  // An adjective in every language: German too writes it small.
  grade: (value, { word, locale }) => word('galvanic', `grade.${value}`).toLocaleLowerCase(locale),
  hull: (value, { word }) => word('galvanic', `ofHull.${value}`),
}

function numberIn(locale: string, value: Value, style: Intl.NumberFormatOptions): string {
  return Number(value)
    .toLocaleString(locale, { useGrouping: false, ...style })
    .replace(/^-/, '−')
}

/** A word as it stands in the middle of a sentence: German keeps the capitals of its nouns. */
export function within(word: string, locale: string): string {
  return locale.startsWith('de') ? word : word.charAt(0).toLocaleLowerCase(locale) + word.slice(1)
}

function first(word: string, locale: string): string {
  return word.charAt(0).toLocaleUpperCase(locale) + word.slice(1)
}
