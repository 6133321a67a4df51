import { FINDING_DIRECTIONS, FINDING_STATES } from '../../../contract/vocabulary.js'
import { CAUSES } from '../../../engine/diagnosis/causes.js'
import type { Finding } from '../../api/findings.js'

/** States that can be asked for: what is to be done, unless said otherwise. */
export const STATE_CHOICES = ['unsettled', ...FINDING_STATES, 'all'] as const
export type StateChoice = (typeof STATE_CHOICES)[number]

/** What the list is narrowed to; '' is no narrowing. */
export interface FindingFilter {
  readonly state: StateChoice
  readonly direction: string
  readonly pontoon: string
  readonly cause: string
  /** From 1. */
  readonly page: number
}

export const PAGE_SIZE = 25

/** Reads a filter from an address; what nobody knows counts as not narrowed. */
export function filterOf(query: URLSearchParams): FindingFilter {
  const oneOf = (name: string, known: readonly string[]) => known.find((each) => each === query.get(name)) ?? ''
  const page = query.get('page') ?? ''
  return {
    state: STATE_CHOICES.find((choice) => choice === query.get('state')) ?? 'unsettled',
    direction: oneOf('direction', FINDING_DIRECTIONS),
    cause: oneOf('cause', CAUSES),
    pontoon: query.get('pontoon') ?? '',
    page: /^[1-9]\d{0,4}$/.test(page) ? Number(page) : 1,
  }
}

/** An address with one thing changed. Another filter begins again at the first page. */
export function changed(query: URLSearchParams, name: keyof FindingFilter, value: string): URLSearchParams {
  const next = new URLSearchParams(query)
  if (name !== 'page') next.delete('page')
  if (value === '') next.delete(name)
  else next.set(name, value)
  return next
}

export function narrowFindings(findings: readonly Finding[], filter: FindingFilter): Finding[] {
  return findings.filter(
    ({ direction, pontoon, causes }) =>
      (filter.direction === '' || direction === filter.direction) &&
      (filter.pontoon === '' || pontoon === filter.pontoon) &&
      (filter.cause === '' || causes[0]?.cause === filter.cause),
  )
}

const STATE_ORDER: readonly string[] = FINDING_STATES

/** What nobody has looked at yet first, then what chance explains least. */
export function inOrderOfWork(findings: readonly Finding[]): Finding[] {
  return findings.toSorted(
    (a, b) =>
      STATE_ORDER.indexOf(a.state) - STATE_ORDER.indexOf(b.state) || Math.abs(b.surprise) - Math.abs(a.surprise),
  )
}

/** One page of a list, the last where the address asks for more than there are. */
export function pageOf<Item>(items: readonly Item[], page: number): { items: Item[]; page: number; pages: number } {
  const pages = Math.max(1, Math.ceil(items.length / PAGE_SIZE))
  const shown = Math.min(page, pages)
  return { items: items.slice((shown - 1) * PAGE_SIZE, shown * PAGE_SIZE), page: shown, pages }
}
