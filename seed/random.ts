/** Seeded chance, so that the demo fleet and its pictures are the same on every machine. */
export interface Dice {
  /** Uniform in [0, 1). */
  uniform(): number
  between(low: number, high: number): number
  normal(mean: number, sd: number): number
  chance(probability: number): boolean
  pick<T>(list: readonly T[]): T
}

/**
 * A stream of chance that depends on nothing but its key. Each boat, anode and picture has a stream of its own, so that
 * adding one boat leaves all others as they were.
 *
 * @param key any words and numbers that name what is being drawn
 * @example dice('Saltlark', 'shaft', 3).between(0.9, 1.1)
 */
export function dice(...key: readonly (string | number)[]): Dice {
  let state = hash(key.join('|'))
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    normal: (mean, sd) => mean + sd * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    chance: (probability) => uniform() < probability,
    pick: (list) => list[Math.floor(uniform() * list.length)]!,
  }
}

/** 32-bit FNV-1a with a final mix: near-alike keys must give unlike streams. */
function hash(text: string): number {
  let h = 0x811c9dc5
  for (let i = 0; i < text.length; i += 1) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193)
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return h ^ (h >>> 16)
}
