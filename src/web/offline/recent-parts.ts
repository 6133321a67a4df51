import { z } from 'zod'
import type { AnodeView } from '../../contract/anodes.js'
import { ALLOYS, type PositionKind } from '../../contract/vocabulary.js'

/** A part that the organisation fits, as often as it was fitted lately. */
export const RecentPart = z.object({
  alloy: z.enum(ALLOYS).nullable(),
  shape: z.string().nullable(),
  grossMassG: z.number(),
  coreMassG: z.number().nullable(),
  lengthMm: z.number().nullable(),
  widthMm: z.number().nullable(),
  heightMm: z.number().nullable(),
  kinds: z.array(z.string()),
  fitted: z.number(),
})
export type RecentPart = z.infer<typeof RecentPart>

/** Masses closer than this are one part of the list: castings of one mould differ by a few per cent. Convention. */
const SAME_MASS = 1.08

/**
 * The parts among anodes that were fitted, those fitted last first.
 *
 * @param anodes in falling order of the day they were fitted
 */
export function recentParts(anodes: readonly AnodeView[]): RecentPart[] {
  const parts: RecentPart[] = []
  for (const { alloy, shape, grossMassG, coreMassG, lengthMm, widthMm, heightMm, positionKind } of anodes) {
    if (grossMassG === null) continue
    const known = parts.findIndex((part) => part.alloy === alloy && part.shape === shape && isSame(part, grossMassG))
    const part = parts[known]
    if (part === undefined) {
      const size = { lengthMm, widthMm, heightMm }
      parts.push({ alloy, shape, grossMassG, coreMassG, ...size, kinds: [positionKind], fitted: 1 })
    } else {
      parts[known] = { ...part, fitted: part.fitted + 1, kinds: [...new Set([...part.kinds, positionKind])] }
    }
  }
  return parts
}

function isSame({ grossMassG }: RecentPart, massG: number): boolean {
  const ratio = grossMassG / massG
  return ratio < SAME_MASS && ratio > 1 / SAME_MASS
}

/** The parts in the order in which one is looked for: those for this place and shape, then those fitted most. */
export function partsFor(
  parts: readonly RecentPart[],
  { positionKind, shape, alloy }: { positionKind: PositionKind; shape: string | null; alloy: string | null },
): RecentPart[] {
  const rank = (part: RecentPart) =>
    Number(part.kinds.includes(positionKind)) * 4 + Number(part.shape === shape) * 2 + Number(part.alloy === alloy)
  return parts.toSorted((a, b) => rank(b) - rank(a) || b.fitted - a.fitted)
}
