/** What says how text is to be laid out, but is nothing to see. */
const UNSEEN = /[\p{Cc}\p{Cf}]|\p{Variation_Selector}/gu
/** Pictures that no typeface of ours holds; one drawn of several parts, joined or tinted, counts as one. */
const PICTURES = /(?:[\u{1f000}-\u{1faff}\u{e0000}-\u{e007f}])+/gu
/** Stands for a picture that cannot be printed. */
const PICTURE = '\u25af'
const RIGHT_TO_LEFT = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]/u
const LEFT_TO_RIGHT = /[A-Za-z\u00c0-\u024f\u0370-\u058f]/u

/**
 * Text as it is set from the left: without signs that nobody sees, pictures as a box, and the words of a passage that is read
 * from the right in the order in which they are printed. The typeface itself turns the letters within a word.
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
    set.push(...passage.reverse())
    passage = []
  }
  for (const word of text.split(' ')) {
    const joins = RIGHT_TO_LEFT.test(word) || (passage.length > 0 && !LEFT_TO_RIGHT.test(word))
    if (!joins) close()
    if (joins) passage.push(word)
    else set.push(word)
  }
  close()
  return set.join(' ')
}
