import type { GroupScore, ModelView } from '../../../contract/model.js'
import { WEIGHING_ERROR } from '../../../engine/depletion/weighing-error.js'
import type { SeasonPoint } from '../../../engine/rates/season-curve.js'
import english from '../../../messages/en/model.json' with { type: 'json' }
import { addEnglish, words } from '../../i18n/words.js'
import { sayMass, sayPercent } from '../../wording/amounts.js'
import { dateFormat, sayNumber } from '../../wording/locale.js'

addEnglish('model', english)

/** The words of the page of the model; the page waits for its area `model`. */
export const t = words.getFixedT(null, 'model')

type Coverage = GroupScore['coverage'][number]
type Scores = Pick<GroupScore, 'meanScore' | 'biasG' | 'biasDays'>

export type Verdict = 'asPromised' | 'tooNarrow' | 'tooWide'

/** Whether intervals were as wide as they should be, as far as the number of weighings tells. */
export function verdictOn({ level, share, low, high }: Coverage): Verdict | null {
  if (share === null || low === null || high === null) return null
  if (level > high) return 'tooNarrow'
  return level < low ? 'tooWide' : 'asPromised'
}

/** @example sayCoverage({ level: 0.8, share: 0.81, low: 0.77, high: 0.84 }, 300) // 'Of 300 forecasts judged, 81 % held …' */
export function sayCoverage(coverage: Coverage, scored: number): string {
  const verdict = verdictOn(coverage)
  if (verdict === null || coverage.share === null) return t('judged.none')
  return t('judged.coverage', {
    count: scored,
    share: sayPercent(coverage.share),
    level: sayPercent(coverage.level),
    verdict: t(`verdict.${verdict}`),
  })
}

/** A mean normal score nearer to 0 than this is not worth a word: a tenth of the forecasts' own spread. Convention. */
const HARDLY_ANY_BIAS = 0.1

/** @example sayBias({ meanScore: 0.4, biasG: 21, biasDays: 12 }) // 'They leaned late: more was lost than forecast, by 21 g …' */
export function sayBias({ meanScore, biasG, biasDays }: Scores): string {
  if (meanScore === null || biasG === null || biasDays === null) return ''
  if (Math.abs(meanScore) < HARDLY_ANY_BIAS || meanScore * biasDays <= 0) return t('bias.neither')
  const said = { mass: sayMass(Math.abs(biasG)), count: Math.abs(Math.round(biasDays)) }
  return meanScore > 0 ? t('bias.late', said) : t('bias.early', said)
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
  if (sd < FACTOR_FROM_SD) return t('spread.about', { percent: Math.round(Math.expm1(sd) * 100) })
  return t('spread.factor', { factor: sayNumber(Math.exp(sd), 1) })
}

/** What rates differ by, the widest first in the model. */
export const SPREADS = ['boat', 'berth', 'place', 'anode', 'residual'] as const

/** What an exponent of the depletion law means. The bounds lie between steady, surface and mass. */
export function sayExponent(exponent: number): string {
  if (exponent < 0.15) return t('exponent.steady')
  if (exponent < 0.5) return t('exponent.little')
  return t(exponent < 0.85 ? 'exponent.surface' : 'exponent.mass')
}

/** Gain in log likelihood: some 2 is evidence, some 5 is strong. */
export function sayEvidence(gain: number): string {
  if (gain < 2) return t('evidence.hardly')
  return t(gain < 5 ? 'evidence.some' : 'evidence.strong')
}

/** By thirds, so that two thirds need not be told from its rounding. */
const LAWS: Readonly<Record<number, 'law.steady' | 'law.surface' | 'law.mass'>> = {
  0: 'law.steady',
  2: 'law.surface',
  3: 'law.mass',
}

/** A law less likely than this beside the others is not worth its words. */
const LEAST_LIKELY = 0.01

/** How likely each law is beside the others. @example sayLaws([{ exponent: 0, evidence: 0, probability: 1 }]) // ['steady 100 %'] */
export function sayLaws(laws: ModelView['exponents'][number]['laws']): string[] {
  const likely = laws.filter(({ probability }) => probability >= LEAST_LIKELY)
  return likely.map(({ exponent, probability }) => {
    const law = LAWS[Math.round(exponent * 3)]
    const percent = sayPercent(probability)
    return law === undefined ? `q = ${sayNumber(exponent, 2)} ${percent}` : t(law, { percent })
  })
}

const MS_PER_DAY = 86_400_000

/** The season in a sentence. */
export function saySeason(curve: readonly SeasonPoint[]): string {
  const [fastest, slowest] = [(a: SeasonPoint, b: SeasonPoint) => b.factor - a.factor, byFactor].map(
    (order) => curve.toSorted(order)[0],
  )
  if (fastest === undefined || slowest === undefined) return ''
  const month = ({ dayOfYear }: SeasonPoint) =>
    dateFormat({ month: 'long', timeZone: 'UTC' }).format(Date.UTC(2001, 0, 1) + dayOfYear * MS_PER_DAY)
  return t('season.sentence', {
    fast: month(fastest),
    fastPercent: sayPercent(fastest.factor),
    slow: month(slowest),
    slowPercent: sayPercent(slowest.factor),
  })
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
      what: t('errors.scale'),
      how: t('errors.residue', { mean: sayShare(of('residueMeanShare')), sd: sayShare(of('residueSdShare')) }),
      isLearned: isLearned('residueMeanShare', 'residueSdShare'),
    },
    {
      what: t('errors.calipers'),
      how: t('errors.ofNew', { lean: sayLean(of('dimensionsBiasShare')), sd: sayShare(of('dimensionsSdShare')) }),
      isLearned: isLearned('dimensionsBiasShare', 'dimensionsSdShare'),
    },
    {
      what: t('errors.eye'),
      how: t('errors.ofNew', { lean: sayLean(of('visualBiasPoints')), sd: sayShare(of('visualSdPoints')) }),
      isLearned: isLearned('visualBiasPoints', 'visualSdPoints'),
    },
  ]
}

const sayShare = (share: number) => `${sayNumber(share * 100, 1)} %`

function sayLean(share: number): string {
  if (Math.abs(share) < 0.0005) return t('lean.none')
  return t(share > 0 ? 'lean.heavy' : 'lean.light', { share: sayShare(Math.abs(share)) })
}

/** A group of forecasts, as the service names it. */
export function sayGroup(group: string): string {
  return Object.hasOwn(english.group, group) ? t(`group.${group as keyof typeof english.group}`) : group
}
