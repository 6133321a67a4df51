import type { Finding } from '../../api/findings.js'
import { sayEvidence } from '../../wording/evidence-words.js'
import { currentLocale, sayNumber } from '../../wording/locale.js'
import { t } from './findings-words.js'

type RankedCause = Finding['causes'][number]
type Evidence = RankedCause['evidence'][number]

/** A piece of evidence on its side of the balance. */
export interface BalancePiece {
  readonly said: string
  readonly observation: string
  /** Length of its bar, 0 to 1: one scale for all causes that may be it, so that switching does not stretch it. */
  readonly length: number
  readonly odds: string
}

export interface Balance {
  readonly speaksFor: readonly BalancePiece[]
  readonly against: readonly BalancePiece[]
  /** Seen, but about as likely under this cause as under the others. */
  readonly neither: readonly Pick<BalancePiece, 'observation' | 'said'>[]
  /** Probability of the cause before any of it was known: of all findings, how often it is that. */
  readonly before: number
}

/** Below this the odds move by less than a fifth: too little to lay on the balance. Convention. */
const HARDLY_ANY_WEIGHT = Math.log(1.2)
/** Odds nearer to even than this are said to be even: the figure would be 1.0. */
const EVEN_ODDS = Math.log(1.05)
/** Beyond it the exact odds say more than the evidence can. Convention. */
const MOST_ODDS = 1000

/** What rules out a cause less likely than this is heavier than all that matters, and would leave its bars no room. Convention. */
const MAY_BE = 0.01

/** The evidence of one cause on its two sides, the heaviest first. */
export function balanceOf(cause: RankedCause, causes: readonly RankedCause[]): Balance {
  const heaviest = heaviestWeight([...causes.filter(({ probability }) => probability >= MAY_BE), cause])
  const heavy = cause.evidence
    .filter(({ weight }) => Math.abs(weight) >= HARDLY_ANY_WEIGHT)
    .toSorted((a, b) => Math.abs(b.weight) - Math.abs(a.weight))
  const pieceOf = ({ observation, weight, ...evidence }: Evidence): BalancePiece => ({
    observation,
    said: sayEvidence(evidence),
    length: Math.abs(weight) / heaviest,
    odds: sayOdds(weight),
  })
  return {
    speaksFor: heavy.filter(({ weight }) => weight > 0).map(pieceOf),
    against: heavy.filter(({ weight }) => weight < 0).map(pieceOf),
    neither: cause.evidence
      .filter(({ weight }) => Math.abs(weight) < HARDLY_ANY_WEIGHT)
      .map(({ observation, ...evidence }) => ({ observation, said: sayEvidence(evidence) })),
    before: beforeEvidence(cause),
  }
}

/** The weights add up to the change of the log odds, so what they started from is known. */
function beforeEvidence({ probability, evidence }: RankedCause): number {
  const odds = probability / (1 - probability)
  const weight = evidence.reduce((sum, each) => sum + each.weight, 0)
  return 1 / (1 + Math.exp(weight) / odds)
}

function heaviestWeight(causes: readonly RankedCause[]): number {
  const weights = causes.flatMap(({ evidence }) => evidence.map(({ weight }) => Math.abs(weight)))
  return Math.max(...weights, HARDLY_ANY_WEIGHT)
}

/** A weight of evidence [nat] as odds. @example sayOdds(Math.log(3.2)) // '3.2 times likelier' */
export function sayOdds(weight: number): string {
  if (Math.abs(weight) < EVEN_ODDS) return t('odds.even')
  const odds = Math.exp(Math.abs(weight))
  const isOver = odds > MOST_ODDS
  const times = sayTimes(Math.min(odds, MOST_ODDS))
  if (weight > 0) return t(isOver ? 'odds.overLikelier' : 'odds.likelier', { times })
  return t(isOver ? 'odds.overLessLikely' : 'odds.lessLikely', { times })
}

function sayTimes(odds: number): string {
  return odds < 10 ? sayNumber(odds, 1) : Math.round(odds).toLocaleString(currentLocale())
}
