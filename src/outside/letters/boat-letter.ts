import type { FindingItem } from '../../contract/findings.js'
import type { DepletionView } from '../../contract/forecasts.js'
import type { Why } from '../../contract/notices.js'
import type { NextLift } from '../../presentation/next-lift.js'
import { foundBlocks, sureBlocks } from './boat-outlook.js'
import { duePicture } from './due-picture.js'
import type { Block, WrittenLetter } from './letter.js'
import { LetterWords, type Reading } from './letter-words.js'

/** Where a letter's links lead. */
export interface LetterLinks {
  readonly boat: string
  /** Later, done already, or no more. */
  readonly choose: string
}

/** What a letter to the owner of one boat is made of. */
export interface BoatLetterFacts {
  readonly reading: Reading
  readonly yard: string
  readonly email: string
  readonly boat: string
  /** Today where the reader lives. */
  readonly today: string
  readonly why: readonly Why[]
  readonly depletion: DepletionView
  readonly findings: readonly FindingItem[]
  readonly nextLift: NextLift | null
  readonly links: LetterLinks
}

/** A letter to the owner of one boat: when, which, what to order, how sure, what was found, what to mind. */
export async function boatLetter(facts: BoatLetterFacts): Promise<WrittenLetter> {
  const words = new LetterWords(facts.reading)
  const { t } = words
  const { boat, links, yard, email } = facts
  const picture = await duePicture(facts.depletion, words)
  return {
    subject: subjectOf(facts, words),
    blocks: [
      { kind: 'lead', text: leadOf(facts, words) },
      ...whichBlocks(facts, words),
      // Before the shopping: what was found may be a danger to life.
      ...foundBlocks(facts.findings, facts.depletion, words),
      ...orderBlocks(facts, words),
      ...sureBlocks(facts.depletion, facts.why, words),
      ...(picture?.blocks ?? []),
      { kind: 'button', label: t('links.boat', { boat }), url: links.boat },
      { kind: 'link', label: t('links.choose', { boat }), url: links.choose },
      { kind: 'heading', text: t('mind.heading') },
      { kind: 'text', text: t('mind.anode') },
      { kind: 'text', text: t('mind.survey') },
      { kind: 'text', text: t('mind.leak') },
      { kind: 'small', text: t('links.why', { yard, email, boat }) },
    ],
    pictures: picture === null ? [] : [picture.picture],
  }
}

/** The earliest recommended date of the anodes that the letter is about; `null` where none is in sight. */
function dueDay({ why }: BoatLetterFacts): string | null {
  const days = why.flatMap(({ recommendedOn }) => recommendedOn ?? [])
  return days.toSorted()[0] ?? null
}

const isAll = ({ why }: BoatLetterFacts, wanted: Why['because']) => why.every(({ because }) => because === wanted)

function subjectOf(facts: BoatLetterFacts, words: LetterWords): string {
  if (isAll(facts, 'finding')) return words.t('subject.finding', { boat: facts.boat })
  const subject = subjectOfDate(facts, words)
  return facts.why.some(({ because }) => because === 'finding') ? words.t('subject.also', { subject }) : subject
}

function subjectOfDate(facts: BoatLetterFacts, words: LetterWords): string {
  const { boat, today } = facts
  const due = dueDay(facts)
  if (due === null) return words.t('subject.movedFar', { boat })
  const day = words.day(due)
  if (isAll(facts, 'moved')) return words.t('subject.moved', { boat, day })
  return due <= today ? words.t('subject.now', { boat }) : words.t('subject.by', { boat, day })
}

function leadOf(facts: BoatLetterFacts, words: LetterWords): string {
  const { boat, today, why, nextLift } = facts
  const due = dueDay(facts)
  if (isAll(facts, 'finding')) return words.t('lead.finding', { boat })
  if (due === null) return words.t('lead.movedFar', { boat })
  const day = words.day(due)
  const planned = nextLift?.lift.planned ? nextLift.lift.on : null
  if (planned !== null && planned <= due) return words.t('lead.planned', { boat, day: words.day(planned) })
  if (due <= today)
    return planned === null
      ? words.t('lead.now', { boat })
      : words.t('lead.plannedLate', { boat, day: words.day(planned) })
  if (isAll(facts, 'moved')) return words.t('lead.moved', { boat, day })
  return words.t(why.some(({ because }) => because === 'second') ? 'lead.soon' : 'lead.by', { boat, day })
}

function whichBlocks({ why, today }: BoatLetterFacts, { t, day }: LetterWords): Block[] {
  const items = why.flatMap(({ anode, because, recommendedOn }) => {
    if (anode === null || because === 'finding') return []
    if (recommendedOn === null) return t('which.movedFar', { anode })
    if (recommendedOn <= today) return t('which.now', { anode })
    return t(`which.${because}`, { anode, day: day(recommendedOn) })
  })
  return items.length === 0
    ? []
    : [
        { kind: 'heading', text: t('which.heading') },
        { kind: 'list', items },
      ]
}

function orderBlocks({ nextLift }: BoatLetterFacts, words: LetterWords): Block[] {
  const parts = nextLift?.parts ?? []
  return [
    { kind: 'heading', text: words.t('order.heading') },
    parts.length === 0
      ? { kind: 'text', text: words.t('order.none') }
      : { kind: 'list', items: parts.map((part) => words.part(part)) },
  ]
}
