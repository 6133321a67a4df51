/** Words that many names have in common and that tell no place. */
const SIDE_WORDS = new Set([
  'anode',
  'port',
  'starboard',
  'aft',
  'fore',
  'forward',
  'bronze',
  'stainless',
  'steel',
  'bracket',
])

/**
 * Whether a fitting's name and an anode's tell of one place: a word of the trade that both have, as `shaft` in "shaft" and "stern shaft".
 * An assumption, as nobody writes down which fitting an anode sits on.
 *
 * @example samePlace({ anode: 'A1', position: 'shaft' }, 'propeller shaft') // true
 */
export function samePlace(anode: { readonly anode: string; readonly position: string }, fitting: string): boolean {
  const words = new Set([...wordsOf(anode.anode), ...wordsOf(anode.position)])
  return wordsOf(fitting).some((word) => words.has(word))
}

function wordsOf(name: string): string[] {
  return name
    .toLowerCase()
    .split(/[^a-z]+/)
    .filter((word) => word.length > 2 && !SIDE_WORDS.has(word))
}
