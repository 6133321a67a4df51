/** What says how text is to be laid out, but is nothing to see. */
const UNSEEN = /[\p{Cc}\p{Cf}]|\p{Variation_Selector}/gu
/** Pictures that no typeface of ours holds; one drawn of several parts, joined or tinted, counts as one. */
const PICTURES = /(?:[\u{1f000}-\u{1faff}\u{e0000}-\u{e007f}])+/gu
/** Stands for a picture that cannot be printed. */
const PICTURE = '\u25af'
/** Does not part words: what it joins the typeface turns as a whole, gaps and all. */
const JOINT = '\u00a0'

/** Scripts that are read from the right; the typeface shapes a run by one of them. */
const FROM_THE_RIGHT = { hebrew: /\p{Script=Hebrew}/u, arabic: /\p{Script=Arabic}/u } as const
const RIGHT_TO_LEFT = /[\p{Script=Hebrew}\p{Script=Arabic}]/u
const LEFT_TO_RIGHT = /\p{L}/u

/**
 * Text as it is set from the left: without signs that nobody sees, pictures as a box, and the words of a passage that is read
 * from the right joined, with numbers and pictures among them where they are read. The typeface turns the letters.
 *
 * @example printable('⛵ Wren 🚤') // '⛵ Wren ▯'
 */
export function printable(text: string): string {
  const plain = text.replace(/\s+/gu, ' ').replace(UNSEEN, '').replace(PICTURES, PICTURE).trim()
  return RIGHT_TO_LEFT.test(plain) ? fromTheLeft(plain) : plain
}

function fromTheLeft(text: string): string {
  const set: string[] = []
  let passage: string[] = []
  const close = () => {
    set.push(...joined(passage).reverse())
    passage = []
  }
  for (const word of text.split(' ')) {
    const joins = RIGHT_TO_LEFT.test(word) || (passage.length > 0 && !LEFT_TO_RIGHT.test(word))
    if (!joins) close()
    if (joins) passage.push(word)
    else set.push(word)
  }
  close()
  // The gap behind a turned run is printed before it: it needs one of its own where more follows.
  return set.map((run, at) => (at < set.length - 1 && RIGHT_TO_LEFT.test(run) ? JOINT + run : run)).join(' ')
}

/** Neighbours of one script as one run. */
function joined(words: readonly string[]): string[] {
  const runs: string[] = []
  let last: string | undefined
  for (const word of words) {
    const script = scriptOf(word)
    const before = runs.at(-1)
    if (before !== undefined && script !== undefined && script === last) runs[runs.length - 1] = before + JOINT + word
    else runs.push(word)
    last = script
  }
  return runs
}

function scriptOf(word: string): string | undefined {
  return Object.entries(FROM_THE_RIGHT).find(([, letters]) => letters.test(word))?.[0]
}
