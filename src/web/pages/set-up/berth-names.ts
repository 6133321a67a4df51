/** Names that one entry may make; no pontoon has more. Convention. */
const MOST_NAMES = 500

export interface BerthNames {
  /** In the order typed, each once. */
  readonly names: readonly string[]
  /** Entries that make no sense, as typed. */
  readonly wrong: readonly string[]
}

/** "A1–A24", "A1-24", "A 01 - A 24": what stands before the numbers is the same on both sides, or left out on the right. */
const SERIES = /^(.*?)(\d+)\s*[-–—]\s*(.*?)(\d+)$/

/**
 * The berths that somebody means by a few words: single names and whole rows, with commas or line breaks between them. Leading
 * zeros are kept, so that names sort as they do on the pontoon.
 *
 * @example berthNames('A1–A3, A12') // { names: ['A1', 'A2', 'A3', 'A12'], wrong: [] }
 */
export function berthNames(text: string): BerthNames {
  const names = new Set<string>()
  const wrong: string[] = []
  for (const entry of text.split(/[,;\n]/).map((part) => part.trim())) {
    if (entry === '') continue
    const made = namesOf(entry)
    if (made === null || names.size + made.length > MOST_NAMES) wrong.push(entry)
    else for (const name of made) names.add(name)
  }
  return { names: [...names], wrong }
}

/** @returns null where a row runs backwards, is far too long or changes its letters on the way */
function namesOf(entry: string): string[] | null {
  const [, before, first, beforeLast, last] = SERIES.exec(entry) ?? []
  if (before === undefined || first === undefined || last === undefined) return [entry]
  if (beforeLast !== '' && beforeLast !== before) return null
  const count = Number(last) - Number(first) + 1
  if (!(count >= 1 && count <= MOST_NAMES)) return null
  const width = first.startsWith('0') ? first.length : 0
  return Array.from({ length: count }, (_, index) => before + String(Number(first) + index).padStart(width, '0'))
}
