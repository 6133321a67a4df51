import type { GroupScore, ModelView } from '../../../contract/model.js'
import { WEIGHING_ERROR } from '../../../engine/depletion/weighing-error.js'
import type { SeasonPoint } from '../../../engine/rates/season-curve.js'
import { sayMass, sayPercent } from '../../wording/amounts.js'
import { count } from '../../wording/days.js'

type Coverage = GroupScore['coverage'][number]
type Scores = Pick<GroupScore, 'meanScore' | 'biasG' | 'biasDays'>

/** Whether intervals were as wide as they should be, as far as the number of weighings tells. */
export function verdictOn({ level, share, low, high }: Coverage): 'as promised' | 'too narrow' | 'too wide' | null {
  if (share === null || low === null || high === null) return null
  if (level > high) return 'too narrow'
  return level < low ? 'too wide' : 'as promised'
}

const VERDICTS = {
  'as promised': 'That is as promised, as far as so many can tell.',
  'too narrow': 'The forecasts were surer than they should be: allow for more than their dates say.',
  'too wide': 'The forecasts were more careful than they need be: their dates are surer than they say.',
}

/** @example sayCoverage({ level: 0.8, share: 0.81, low: 0.77, high: 0.84 }, 300) // 'Of 300 forecasts judged, 81 % held …' */
export function sayCoverage(coverage: Coverage, scored: number): string {
  const verdict = verdictOn(coverage)
  if (verdict === null || coverage.share === null) return 'No forecast has been judged yet.'
  const held = `${sayPercent(coverage.share)} had the mass between p10 and p90, where ${sayPercent(coverage.level)} should.`
  return `Of ${count(scored, 'forecast')} judged, ${held} ${VERDICTS[verdict]}`
}

/** A mean normal score nearer to 0 than this is not worth a word: a tenth of the forecasts' own spread. Convention. */
const HARDLY_ANY_BIAS = 0.1

/** @example sayBias({ meanScore: 0.4, biasG: 21, biasDays: 12 }) // 'They leaned late: more was lost than forecast, by 21 g …' */
export function sayBias({ meanScore, biasG, biasDays }: Scores): string {
  if (meanScore === null || biasG === null || biasDays === null) return ''
  if (Math.abs(meanScore) < HARDLY_ANY_BIAS || meanScore * biasDays <= 0) return 'They leaned neither way.'
  const amounts = `by ${sayMass(Math.abs(biasG))} or ${count(Math.abs(Math.round(biasDays)), 'day')} of wear at the median`
  return meanScore > 0
    ? `They leaned late: more was lost than forecast, ${amounts}.`
    : `They leaned early: less was lost than forecast, ${amounts}.`
}

/** Days by which wear was ahead of the forecast, with their sign. @example sayAhead(-3.2) // '3 early' */
export function sayAhead(days: number | null): string {
  if (days === null) return '–'
  const whole = Math.round(days)
  if (whole === 0) return '0'
  return whole > 0 ? `+${whole}` : `−${-whole}`
}

/** From where on a spread is told as a factor: percentages up and down differ too much. Convention. */
const FACTOR_FROM_SD = 0.5

/**
 * How far things of one kind lie apart, from a variance of the log rate: two of three within one standard deviation.
 *
 * @example saySpread(0.0688) // 'about ±30 %'
 */
export function saySpread(variance: number): string {
  const sd = Math.sqrt(variance)
  if (sd < FACTOR_FROM_SD) return `about ±${Math.round(Math.expm1(sd) * 100)} %`
  return `a factor of about ${Math.exp(sd).toFixed(1)} either way`
}

export const SPREAD_WORDS: Readonly<Record<string, { readonly who: string; readonly why: string }>> = {
  boat: { who: 'Boats', why: 'how much metal each protects, paint, what runs on board' },
  berth: { who: 'Berths', why: 'water, flow, neighbours, shore power' },
  place: { who: 'Places on one boat', why: 'where an anode sits, what lies near it' },
  anode: { who: 'Anodes of one place', why: 'how well each is connected, and its metal' },
  residual: { who: 'One haul-out and the next', why: 'weather, use, and whatever nobody wrote down' },
}

/** What an exponent of the depletion law means. The bounds lie between steady, surface and mass. */
export function sayExponent(exponent: number): string {
  if (exponent < 0.15) return 'wears steadily to the end'
  if (exponent < 0.5) return 'slows a little as it shrinks'
  return exponent < 0.85 ? 'slows with its surface' : 'slows with its mass'
}

/** Gain in log likelihood: some 2 is evidence, some 5 is strong. */
export function sayEvidence(gain: number): string {
  if (gain < 2) return 'hardly any'
  return gain < 5 ? 'some' : 'strong'
}

/** By thirds, so that two thirds need not be told from its rounding. */
const LAW_WORDS: Readonly<Record<number, string>> = { 0: 'steady', 2: 'by surface', 3: 'by mass' }

/** A law less likely than this beside the others is not worth its words. */
const LEAST_LIKELY = 0.01

/** How likely each law is beside the others. @example sayLaws([{ exponent: 0, evidence: 0, probability: 1 }]) // ['steady 100 %'] */
export function sayLaws(laws: ModelView['exponents'][number]['laws']): string[] {
  const likely = laws.filter(({ probability }) => probability >= LEAST_LIKELY)
  return likely.map(({ exponent, probability }) => {
    const words = LAW_WORDS[Math.round(exponent * 3)] ?? `q = ${exponent.toFixed(2)}`
    return `${words} ${sayPercent(probability)}`
  })
}

const MONTHS = new Intl.DateTimeFormat('en-GB', { month: 'long', timeZone: 'UTC' })
const MS_PER_DAY = 86_400_000

/** The season in a sentence. */
export function saySeason(curve: readonly SeasonPoint[]): string {
  const [fastest, slowest] = [(a: SeasonPoint, b: SeasonPoint) => b.factor - a.factor, byFactor].map(
    (order) => curve.toSorted(order)[0],
  )
  if (fastest === undefined || slowest === undefined) return ''
  const month = ({ dayOfYear }: SeasonPoint) => MONTHS.format(Date.UTC(2001, 0, 1) + dayOfYear * MS_PER_DAY)
  return `In ${month(fastest)} anodes waste at ${sayPercent(fastest.factor)} of the year’s rate, in ${month(slowest)} at ${sayPercent(slowest.factor)}.`
}

const byFactor = (a: SeasonPoint, b: SeasonPoint) => a.factor - b.factor

interface ErrorLine {
  readonly what: string
  readonly how: string
  readonly isLearned: boolean
}

/** How far each way of weighing is off, and whether that was learned here. */
export function errorLines(errors: ModelView['observation']['errors']): ErrorLine[] {
  const of = (key: keyof typeof WEIGHING_ERROR) => errors[key] ?? WEIGHING_ERROR[key]
  const isLearned = (...keys: (keyof typeof WEIGHING_ERROR)[]) => keys.some((key) => of(key) !== WEIGHING_ERROR[key])
  return [
    {
      what: 'On a scale, not cleaned',
      how: `${sayShare(of('residueMeanShare'))} too heavy, give or take ${sayShare(of('residueSdShare'))}`,
      isLearned: isLearned('residueMeanShare', 'residueSdShare'),
    },
    {
      what: 'With calipers',
      how: `${sayLean(of('dimensionsBiasShare'))}, give or take ${sayShare(of('dimensionsSdShare'))} of the new mass`,
      isLearned: isLearned('dimensionsBiasShare', 'dimensionsSdShare'),
    },
    {
      what: 'By eye',
      how: `${sayLean(of('visualBiasPoints'))}, give or take ${sayShare(of('visualSdPoints'))} of the new mass`,
      isLearned: isLearned('visualBiasPoints', 'visualSdPoints'),
    },
  ]
}

const sayShare = (share: number) => `${(share * 100).toFixed(1)} %`

function sayLean(share: number): string {
  if (Math.abs(share) < 0.0005) return 'neither way off'
  return `${sayShare(Math.abs(share))} too ${share > 0 ? 'heavy' : 'light'}`
}
