import type { Why } from '../../contract/notices.js'
import type { WrittenLetter } from './letter.js'
import { LetterWords, type Reading } from './letter-words.js'

/** What a letter to the owner of many boats is made of. */
export interface SummaryFacts {
  readonly reading: Reading
  readonly yard: string
  readonly email: string
  readonly today: string
  readonly why: readonly Why[]
  readonly links: { readonly boats: string; readonly choose: string }
}

/** More boats than this are counted, not named. Convention: a letter that is read. */
const MOST_NAMED = 40

/** One letter for many boats at once, the one due first in front. */
export function summaryLetter({ reading, yard, email, today, why, links }: SummaryFacts): WrittenLetter {
  const words = new LetterWords(reading)
  const { t } = words
  const boats = [...new Set(why.map(({ boat }) => boat))]
    .map((boat) => {
      const days = why.flatMap((each) => (each.boat === boat ? (each.recommendedOn ?? []) : []))
      const isFound = why.some((each) => each.boat === boat && each.because === 'finding')
      return { boat, day: days.toSorted()[0] ?? null, isFound }
    })
    .toSorted((a, b) => ((a.day ?? 'z') < (b.day ?? 'z') ? -1 : 1))
  const items = boats.slice(0, MOST_NAMED).map(({ boat, day, isFound }) => {
    if (day === null) return t('summary.itemFinding', { boat })
    const item = day <= today ? t('summary.itemNow', { boat }) : t('summary.item', { boat, day: words.day(day) })
    return isFound ? t('summary.alsoFound', { item }) : item
  })
  const rest = boats.length - items.length
  return {
    subject: t('subject.summary', { count: boats.length }),
    blocks: [
      { kind: 'lead', text: t('lead.summary') },
      { kind: 'list', items: rest > 0 ? [...items, t('summary.more', { count: rest })] : items },
      { kind: 'button', label: t('links.boats'), url: links.boats },
      { kind: 'heading', text: t('mind.heading') },
      { kind: 'text', text: t('mind.anode') },
      { kind: 'text', text: t('mind.survey') },
      { kind: 'text', text: t('mind.leak') },
      { kind: 'link', label: t('links.stop'), url: links.choose },
      { kind: 'small', text: t('links.whyMany', { yard, email }) },
    ],
    pictures: [],
  }
}
