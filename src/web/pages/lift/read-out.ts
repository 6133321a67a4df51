import type { AtLift } from './boat-at-lift-page.js'
import { type LiftWords, sayFound, sayPart, sayVerdict } from './lift-words.js'
import { isDone } from './typing.js'
import { verdictOf } from './verdict.js'

export interface ReadOut {
  /** One paragraph an anode. */
  readonly lines: readonly string[]
  /** Anodes that nothing was entered for. */
  readonly missing: readonly string[]
  /** Keys of what it calls for, the gravest first. */
  readonly cautions: readonly ('leak' | 'survey' | 'paint')[]
}

type Told = Pick<AtLift, 'placed' | 'typedOf' | 'forecasts' | 'unit' | 'photos'>

/** What was found and done, in sentences that can be read out on the dock or the phone. */
export function readOutOf(at: Told, t: LiftWords): ReadOut {
  const done = at.placed.filter(({ anode }) =>
    isDone(at.typedOf(anode.name), at.photos.filter((photo) => photo.anode === anode.name).length),
  )
  const missing = at.placed.filter((each) => !done.includes(each)).map(({ anode }) => anode.name)
  const conditions = done.flatMap(({ anode }) => at.typedOf(anode.name).conditions)
  const isFarBelow = done.some(({ anode }) => verdictAt(at, anode)?.judgement === 'far-below')
  const isGoing = conditions.some((code) => code === 'pitted' || code === 'pink')
  return {
    missing,
    lines: done.map(({ anode }) => lineOf(at, anode, t)),
    cautions: [
      ...(isFarBelow ? (['leak'] as const) : []),
      ...(isGoing ? (['survey'] as const) : []),
      ...(conditions.includes('painted') ? (['paint'] as const) : []),
    ],
  }
}

type Anode = AtLift['placed'][number]['anode']

function verdictAt({ forecasts, typedOf, unit }: Told, anode: Anode) {
  const forecast = forecasts.find((each) => each.anode === anode.name)
  // An anode that is missing or broken off is a loss at once: no sign of fast wear.
  const typed = typedOf(anode.name)
  if (typed.conditions.includes('missing') || typed.conditions.includes('broken')) return null
  return verdictOf(anode, forecast, typed, unit)
}

function lineOf(at: Told, anode: Anode, t: LiftWords): string {
  const typed = at.typedOf(anode.name)
  const found = sayFound(typed, at.unit, t) ?? t('summary.lineNotWeighed')
  const verdict = verdictAt(at, anode)
  const judged = verdict && sayVerdict(verdict, typed.unit ?? at.unit, t)
  const looks = typed.conditions.map((code) => t(`condition.${code}`, { ns: 'words' })).join(', ')
  return [
    judged
      ? t('summary.lineJudged', { anode: anode.name, found, judged: uncapital(judged) })
      : t('summary.line', { anode: anode.name, found }),
    looks && t('summary.lineLooks', { looks }),
    typed.replacedBy && t('summary.lineReplaced', { part: sayPart(typed.replacedBy, at.unit, t) }),
  ]
    .filter(Boolean)
    .join(' ')
}

function uncapital(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1)
}
