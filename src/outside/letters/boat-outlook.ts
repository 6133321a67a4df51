import type { FindingItem } from '../../contract/findings.js'
import type { DepletionView } from '../../contract/forecasts.js'
import type { Why } from '../../contract/notices.js'
import { likelihoodOf } from '../../presentation/likelihood.js'
import { occupiedPositions } from '../../presentation/occupied-positions.js'
import type { Block } from './letter.js'
import type { LetterWords } from './letter-words.js'

/** How sure the dates are, and what they rest on: the first in a sentence, the others that the letter is about in a list. */
export function sureBlocks(depletion: DepletionView, why: readonly Why[], words: LetterWords): Block[] {
  const [first, ...rest] = occupiedPositions(depletion)
  const from = first?.current.forecast?.replace.p10 ?? null
  if (first === undefined || from === null) return []
  const { t, owner, day } = words
  const { position, forecast } = first.current
  const to = forecast?.replace.p90 ?? null
  const weighings = depletion.anodes.reduce((sum, anode) => sum + anode.weighings.length, 0)
  const said = { position: words.position(position), from: day(from) }
  const others = rest.filter(({ current }) => why.some(({ anode }) => anode === current.anode))
  const items = others.flatMap(({ current }) => intervalOf(current, words) ?? [])
  return [
    { kind: 'heading', text: t('sure.heading') },
    {
      kind: 'text',
      text: to === null ? owner('sure.from', said) : owner('sure.between', { ...said, to: day(to) }),
    },
    ...(items.length === 0 ? [] : [{ kind: 'list', items } as const]),
    { kind: 'text', text: owner('sure.rests', { count: weighings }) },
  ]
}

function intervalOf({ anode, forecast }: DepletionView['anodes'][number], { t, day }: LetterWords): string | null {
  const { p10 = null, p90 = null } = forecast?.replace ?? {}
  if (p10 === null) return null
  const from = day(p10)
  return p90 === null ? t('sure.from', { anode, from }) : t('sure.between', { anode, from, to: day(p90) })
}

const SCOPES = { anode: 'anode', boat: 'boat', berth: 'berth', pontoon: 'pontoon' } as const
/** Less likely ones only worry an owner. As on their page. */
const MOST_FINDINGS = 3

/** What was found, with its likeliest cause in plain words, and the cautions that it and what was seen bring. */
export function foundBlocks(findings: readonly FindingItem[], depletion: DepletionView, words: LetterWords): Block[] {
  const cautions = cautionsOf(findings, depletion, words)
  if (findings.length === 0) return cautions
  return [
    { kind: 'heading', text: words.t('found.heading') },
    { kind: 'list', items: findings.slice(0, MOST_FINDINGS).map((finding) => sentence(finding, words)) },
    ...cautions,
  ]
}

function sentence({ scope, direction, anodes, causes, confirmedCause }: FindingItem, { owner }: LetterWords): string {
  const [anode] = anodes
  const what =
    direction === 'other'
      ? owner('found.other')
      : owner(`found.${SCOPES[scope]}${direction === 'fast' ? 'Fast' : 'Slow'}`, { anode: anode?.anode ?? '' })
  if (confirmedCause !== null) return `${what} ${owner('found.confirmed', { cause: owner(`cause.${confirmedCause}`) })}`
  const [top] = causes
  if (top === undefined) return what
  return `${what} ${owner('found.maybe', { cause: owner(`cause.${top.cause}`), how: owner(`likely.${likelihoodOf(top.probability)}`) })}`
}

/** Causes that bring a danger to life along. */
const CAUTIONS: Readonly<Record<string, 'current-leak' | 'survey'>> = {
  'stray-current-onboard': 'current-leak',
  'stray-current-shore': 'current-leak',
}

/** Metal that is going. */
const WEAKENED: readonly string[] = ['pitted', 'pink']

function cautionsOf(findings: readonly FindingItem[], { anodes }: DepletionView, { owner }: LetterWords): Block[] {
  const seen = anodes
    .filter(({ removedOn }) => removedOn === null)
    .flatMap(({ weighings }) => weighings.at(-1)?.conditions ?? [])
  const keys = new Set([
    ...(seen.some((code) => WEAKENED.includes(code)) ? (['survey'] as const) : []),
    ...findings.flatMap(({ causes, direction }) => [
      ...causes.slice(0, 2).flatMap(({ cause }) => CAUTIONS[cause] ?? []),
      ...(direction === 'slow' ? (['not-working'] as const) : []),
    ]),
  ])
  return [...keys].map((key) => ({
    kind: 'caution',
    title: owner(`caution.${key}.title`),
    text: owner(`caution.${key}.text`),
  }))
}
