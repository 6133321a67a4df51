import type { AnodeAlloy } from '../reference/vocabulary.js'

/** An anode as it would be ordered. */
export interface Part {
  readonly alloy: AnodeAlloy | null
  readonly shape: string | null
  /** Gross, when new [g]; `null` where nobody weighed it. */
  readonly massG: number | null
}

export interface CountedPart extends Part {
  readonly count: number
}

/** Castings of one part differ by a few per cent; parts of one maker's list by more than this. Convention. */
const SAME_PART_SHARE = 0.1

/** Whether two masses [g] are those of one part: the heavier within a tenth of the lighter. */
export function isSamePartMass(a: number, b: number): boolean {
  return Math.max(a, b) <= Math.min(a, b) * (1 + SAME_PART_SHARE)
}

/**
 * How many of each part: of one alloy and shape, and of masses within a tenth of the lightest of them, told by the middle one
 * to two digits.
 *
 * @returns by alloy, shape and mass
 */
export function countParts(parts: readonly Part[]): CountedPart[] {
  const kinds = new Map<string, Part[]>()
  for (const part of parts) {
    const kind = `${part.alloy ?? ''}\n${part.shape ?? ''}`
    kinds.set(kind, [...(kinds.get(kind) ?? []), part])
  }
  return [...kinds.keys()].sort().flatMap((kind) => countMasses(kinds.get(kind)!))
}

function countMasses(kind: readonly Part[]): CountedPart[] {
  const { alloy, shape } = kind[0]!
  const unweighed = kind.filter(({ massG }) => massG === null).length
  const groups: number[][] = []
  for (const massG of kind.flatMap((part) => part.massG ?? []).sort((a, b) => a - b)) {
    const group = groups.at(-1)
    if (group !== undefined && isSamePartMass(group[0]!, massG)) group.push(massG)
    else groups.push([massG])
  }
  const counted = groups.map((masses) => ({
    alloy,
    shape,
    massG: Number(masses[masses.length >> 1]!.toPrecision(2)),
    count: masses.length,
  }))
  return unweighed === 0 ? counted : [...counted, { alloy, shape, massG: null, count: unweighed }]
}
