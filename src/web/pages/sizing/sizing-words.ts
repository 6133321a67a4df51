import type { TFunction } from 'i18next'
import { useTranslation } from 'react-i18next'
import type { OutOfRange } from '../../../engine/errors.js'
import { designAlloy } from '../../../engine/reference/anode-alloys.js'
import type { CurrentDemandKey } from '../../../engine/reference/current-demand.js'
import { type AnodeAlloy, WATERS } from '../../../engine/reference/vocabulary.js'
import english from '../../../messages/en/sizing.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'
import { sayTimeOf } from '../../wording/days.js'
import { currentLocale } from '../../wording/locale.js'
import { sayTemperature } from '../../wording/temperature.js'
import type { SizingAnswer, Wrong } from './answer-of.js'

addEnglish('sizing', english)

export type SizingWords = TFunction<['sizing', 'words']>

export function useSizingWords(): SizingWords {
  return useTranslation(['sizing', 'words']).t
}

/** Surfaces by kind, as the choice shows them: those of boats first. */
export const SURFACE_GROUPS = [
  ['fittings', ['bronze-propeller', 'nickel-aluminium-bronze-propeller', 'bronze-fittings', 'stainless-shaft']],
  [
    'hulls',
    [
      'painted-steel-hull',
      'painted-steel-hull-well-coated',
      'painted-steel-hull-old-coating',
      'painted-aluminium-hull',
      'painted-aluminium-hull-well-coated',
      'aluminium',
      'ship-hull-first-class-paint',
      'ship-hull-old-paint',
      'ship-hull-surveyors',
    ],
  ],
  [
    'steel',
    [
      'bare-steel-arctic',
      'bare-steel-temperate',
      'bare-steel-subtropical',
      'bare-steel-tropical',
      'bare-steel-at-rest',
      'bare-steel-current-slow',
      'bare-steel-current-fast',
    ],
  ],
  [
    'works',
    [
      'bare-steel-harbour-water',
      'bare-steel-harbour-mud',
      'coated-sheet-piling-harbour',
      'ballast-tank-bare',
      'ballast-tank-coated',
    ],
  ],
] as const satisfies readonly (readonly [group: string, surfaces: readonly CurrentDemandKey[]])[]

type OfferedSurface = (typeof SURFACE_GROUPS)[number][1][number]

/** Where the waters of DNV-RP-B401, table 10-1, part [°C]. */
const WATER_BOUNDS_C = { cold: 7, mild: 12, warm: 20 } as const

export function saySurface(surface: OfferedSurface, t: SizingWords): string {
  const { cold, mild, warm } = WATER_BOUNDS_C
  return t(`surface.${surface}`, {
    cold: sayTemperature(cold),
    mild: sayTemperature(mild),
    warm: sayTemperature(warm),
  })
}

/** The answer in a sentence. */
export function sayAnswer({ sizing, years }: Extract<SizingAnswer, { kind: 'sized' }>, t: SizingWords): string {
  const { number, decidedBy, totalMassKg } = sizing
  const said = { years: sayYears(years), mass: sayKg(totalMassKg) }
  if (number === 1) return t('answer.one', { ...said, deciding: t(`deciding.${decidedBy}`) })
  return t('answer.many', { ...said, count: number, why: t(`why.${decidedBy}`) })
}

/** Which waters an alloy is for. @example saySuits('zinc', t) // 'for salt water; with limits in brackish; not for fresh.' */
export function saySuits(alloy: AnodeAlloy, t: SizingWords): string {
  const { suits } = designAlloy(alloy)
  const list = new Intl.ListFormat(currentLocale(), { type: 'conjunction' })
  const parts = (['yes', 'limited', 'no'] as const).flatMap((how) => {
    const waters = WATERS.filter((water) => suits[water] === how).map((water) => t(`waterKind.${water}`))
    return waters.length === 0 ? [] : t(`suits.${how}`, { waters: list.format(waters) })
  })
  return `${parts.join('; ')}.`
}

/** What is wrong with a field, undefined where nothing is. */
export function sayWrong(wrong: Wrong | undefined, t: SizingWords): string | undefined {
  if (wrong === undefined) return undefined
  if (wrong.kind === 'refused') return sayRefusal(wrong.error, t)
  return wrong.kind === 'noNumber' ? t('wrong.noNumber', { text: wrong.text }) : t(`wrong.${wrong.kind}`)
}

/** What the engine refuses, as its ranges are written: with a unit after each bound. */
const RANGES = [
  ['fromTo', /^from (\S+) to (\S+) ([^ ;:]*)/],
  ['atLeast', /^at least ([\d.]+) ([^ ;:]*)/],
  ['above', /^above (\d+) ?([^ ;:]*)/],
] as const

/** Why a figure is refused. */
function sayRefusal({ quantity, validRange }: OutOfRange, t: SizingWords): string {
  if (quantity === 'core radius' && validRange.startsWith('below')) return t('wrong.core')
  for (const [kind, pattern] of RANGES) {
    const [, low, ...rest] = validRange.match(pattern) ?? []
    if (low === undefined) continue
    const unit = rest.at(-1) ?? ''
    const bound = (value: string) =>
      unit === '°C' ? sayTemperature(Number(value.replace('−', '-'))) : `${localNumber(Number(value))} ${unit}`.trim()
    const said = { low: bound(low), high: rest.length > 1 ? bound(rest[0]!) : '' }
    return t(validRange.includes('fresh water') ? 'wrong.fresh' : `wrong.${kind}`, said)
  }
  return t('wrong.outside')
}

/** @example sayKg(0.4567) // '457 g' */
export function sayKg(kg: number): string {
  return kg < 1 ? `${localNumber(kg * 1000)} g` : `${localNumber(kg)} kg`
}

/** @example sayAmperes(0.0173) // '17.3 mA' */
export function sayAmperes(amperes: number): string {
  return amperes < 1 ? `${localNumber(amperes * 1000)} mA` : `${localNumber(amperes)} A`
}

/** @example sayOhm(0.70213) // '0.702 Ω' */
export const sayOhm = (ohm: number): string => `${localNumber(ohm)} Ω`

/** @example sayYears(2.44) // '2.4 years' */
export function sayYears(years: number): string {
  return sayTimeOf(Number(years >= 10 ? years.toPrecision(3) : years.toFixed(1)), 'year')
}

/** To three digits, as the locale writes it. @example localNumber(1234.5) // '1,230' */
export const localNumber = (value: number): string => Number(value.toPrecision(3)).toLocaleString(currentLocale())
