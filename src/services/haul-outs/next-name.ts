/** A name's stem and its number, "shaft 2" → "shaft " and 2; a dash or nothing may stand between. */
const NUMBERED = /^(.*?)(\d{1,6})$/

/**
 * What to call the anode that takes another's place: the stem of the old name with the next number that the boat has
 * not used.
 *
 * @example nextName('shaft 2', ['shaft 1', 'shaft 2']) // 'shaft 3'
 * @example nextName('rudder', ['rudder']) // 'rudder 2'
 */
export function nextName(old: string, used: Iterable<string>): string {
  const [, stem = `${old} `] = NUMBERED.exec(old) ?? []
  const numbers = [...used].flatMap((name) => numberAfter(stem, name))
  return `${stem}${Math.max(1, ...numbers) + 1}`
}

function numberAfter(stem: string, name: string): number[] {
  const rest = name.startsWith(stem) ? name.slice(stem.length) : ''
  return /^\d{1,6}$/.test(rest) ? [Number(rest)] : []
}
