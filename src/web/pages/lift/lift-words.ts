import type { TFunction } from 'i18next'
import { useTranslation } from 'react-i18next'
import type { AnodeView } from '../../../contract/anodes.js'
import { gramsOf } from '../../../contract/grams.js'
import type { MassUnit } from '../../../contract/vocabulary.js'
import english from '../../../messages/en/lift.json' with { type: 'json' }
import englishWords from '../../../messages/en/words.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'
import { sayMassIn, sayMassNumber } from '../../wording/amounts.js'
import { dateFormat } from '../../wording/locale.js'
import { parseNumber } from '../../wording/typed-number.js'
import type { AnodeDraft, ReplacementDraft } from '../haul-out/draft.js'
import type { Expected, Verdict } from './verdict.js'

addEnglish('lift', english)
addEnglish('words', englishWords)

export type LiftWords = TFunction<['lift', 'words']>

/** The words of the lift's pages. */
export function useLiftWords(): LiftWords {
  return useTranslation(['lift', 'words']).t
}

/** A name between marks that keep its direction from turning the sentence round (Unicode FSI and PDI). */
export function isolated(name: string): string {
  return `\u2068${name}\u2069`
}

/** @example sayTime('2031-04-18T09:30:00.000Z') // '18 Apr, 10:30' */
export function sayTime(at: string): string {
  return dateFormat({ day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' }).format(new Date(at))
}

const MINUTE_MS = 60_000
const HOUR_MIN = 60
const DAY_H = 24

/** A length of time in its largest unit that tells something. */
export function saySpanOf(ms: number, t: LiftWords): string {
  const minutes = Math.round(Math.abs(ms) / MINUTE_MS)
  if (minutes < 2 * HOUR_MIN) return t('span.minutes', { count: minutes })
  const hours = Math.round(minutes / HOUR_MIN)
  return hours < 2 * DAY_H ? t('span.hours', { count: hours }) : t('span.days', { count: Math.round(hours / DAY_H) })
}

/** Sides closer than this are said as ±: a person reads no more from it. Convention. */
const EVEN_SIDES = 1.25

/** What is expected, as the dock says it. @example '310 ± 40 g' */
export function sayExpected({ massG, belowG, aboveG }: Expected, unit: MassUnit, t: LiftWords): string {
  const say = (grams: number) => sayMassNumber(Math.max(0, grams), unit)
  const isEven = Math.max(belowG, aboveG) <= EVEN_SIDES * Math.min(belowG, aboveG)
  if (isEven) return t('verdict.plusMinus', { mass: say(massG), by: say((belowG + aboveG) / 2), unit })
  return t('verdict.range', { mass: say(massG), unit, from: say(massG - belowG), to: say(massG + aboveG) })
}

/** @example sayVerdict(verdict, 'g', t) // 'Expected 310 ± 40 g: normal' */
export function sayVerdict({ expected, judgement }: Verdict, unit: MassUnit, t: LiftWords): string {
  return `${t('verdict.expected', { mass: sayExpected(expected, unit, t) })}: ${t(`verdict.${judgement}`)}`
}

/** What was found of an anode, as typed. */
export function sayFound(typed: AnodeDraft, unit: MassUnit, t: LiftWords): string | null {
  if (typed.method === 'scale' && typed.mass !== '') {
    const mass = parseNumber(typed.mass)
    const inUnit = typed.unit ?? unit
    return mass === null || Number.isNaN(mass) ? typed.mass : sayMassIn(gramsOf(mass, inUnit), inUnit)
  }
  if (typed.method === 'visual' && typed.wastedPercent !== '') {
    return t('anode.eyeValue', { percent: typed.wastedPercent })
  }
  const sizes = [typed.lengthMm, typed.widthMm, typed.heightMm]
  if (typed.method === 'dimensions' && sizes.some((size) => size !== '')) {
    return `${sizes.map((size) => size || '–').join(' × ')} mm`
  }
  return null
}

/** The part that takes an anode's place. */
export function sayPart({ alloy, grossMass, unit }: ReplacementDraft, fallback: MassUnit, t: LiftWords): string {
  const value = parseNumber(grossMass)
  const inUnit = unit ?? fallback
  const mass = value === null || Number.isNaN(value) ? '' : sayMassIn(gramsOf(value, inUnit), inUnit)
  if (alloy === '') return t('anode.partNoAlloy', { mass })
  return t('anode.part', { mass, alloy: t(`alloy.${alloy}`, { ns: 'words' }) }).trim()
}

/** What was last known of an anode: its last weighing, or what it was when new. */
export function sayLast({ lastWeighing, grossMassG }: AnodeView, unit: MassUnit, t: LiftWords): string {
  if (lastWeighing?.massG != null) return sayMassIn(lastWeighing.massG, unit)
  if (lastWeighing?.wastedPercent != null) return t('boat.wasted', { percent: lastWeighing.wastedPercent })
  if (lastWeighing) return t('boat.byCalipers')
  return grossMassG === null ? t('boat.unknown') : sayMassIn(grossMassG, unit)
}
