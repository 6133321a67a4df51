import type { Block, WrittenLetter } from './letter.js'
import { LetterWords, type Reading } from './letter-words.js'

/** A week of a fleet, for those who work with it. */
export interface TeamLetterFacts {
  readonly reading: Reading
  readonly yard: string
  /** Monday of the week. */
  readonly week: string
  readonly today: string
  readonly days: number
  /** Boats with anodes due within those days, the first in front. */
  readonly due: readonly { readonly boat: string; readonly on: string }[]
  readonly findings: readonly { readonly boat: string; readonly count: number }[]
  readonly lifts: readonly { readonly boat: string; readonly on: string }[]
  readonly links: { readonly desk: string; readonly lifts: string; readonly choose: string }
}

/** More than this are counted, not named. Convention: a letter that is read. */
const MOST_NAMED = 25

/** The Monday letter of a manager. */
export function digestLetter(facts: TeamLetterFacts): WrittenLetter {
  const words = new LetterWords(facts.reading)
  const { t } = words
  const { yard, week, days, due, findings, links, today } = facts
  const dueItems = due.map(({ boat, on }) =>
    on <= today ? t('summary.itemNow', { boat }) : t('summary.item', { boat, day: words.day(on) }),
  )
  const findingItems = findings.map((each) => t('digest.finding', each))
  return {
    subject: t('subject.digest', { yard, day: words.day(week) }),
    blocks: [
      { kind: 'lead', text: t('digest.lead', { count: due.length, days }) },
      ...listed(t('digest.due'), dueItems, null, words),
      ...listed(t('digest.lifts'), liftItems(facts, words), t('digest.noLifts'), words),
      ...listed(t('digest.findings'), findingItems, t('digest.noFindings'), words),
      { kind: 'button', label: t('digest.open'), url: links.desk },
      ...footer(facts, words),
    ],
    pictures: [],
  }
}

/** The week's lifts, for staff. */
export function liftsLetter(facts: TeamLetterFacts): WrittenLetter {
  const words = new LetterWords(facts.reading)
  const { t } = words
  const { yard, week, lifts, links } = facts
  return {
    subject: t('subject.lifts', { yard, day: words.day(week) }),
    blocks: [
      { kind: 'lead', text: t('digest.liftsLead', { count: lifts.length }) },
      ...listed(t('digest.lifts'), liftItems(facts, words), null, words),
      { kind: 'text', text: t('digest.weigh') },
      { kind: 'button', label: t('digest.openLifts'), url: links.lifts },
      ...footer(facts, words),
    ],
    pictures: [],
  }
}

function liftItems({ lifts }: TeamLetterFacts, words: LetterWords): string[] {
  return lifts.map(({ boat, on }) => words.t('digest.lift', { boat, day: words.day(on) }))
}

function listed(heading: string, items: readonly string[], none: string | null, { t }: LetterWords): Block[] {
  if (items.length === 0 && none === null) return []
  const rest = items.length - MOST_NAMED
  const shown = rest > 0 ? [...items.slice(0, MOST_NAMED), t('summary.more', { count: rest })] : items
  return [
    { kind: 'heading', text: heading },
    shown.length === 0 ? { kind: 'text', text: none ?? '' } : { kind: 'list', items: shown },
  ]
}

function footer({ yard, links }: TeamLetterFacts, { t }: LetterWords): Block[] {
  return [
    { kind: 'link', label: t('links.stop'), url: links.choose },
    { kind: 'small', text: t('links.whyTeam', { yard }) },
  ]
}
