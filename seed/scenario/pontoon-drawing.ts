import type { NewPontoonDrawing, PontoonDrawing } from '../../src/contract/pontoon-drawing.js'

type Line = Omit<NewPontoonDrawing['pontoons'][number], 'id' | 'name' | 'left' | 'right'>

/** The haven as its office has it on the wall: the quay at the bottom, the outer wall across, the river and the dock to the right. */
const LINES: Readonly<Record<string, Line>> = {
  Lantern: { shoreXM: 20, shoreYM: 90, headingDegrees: 0, berthLengthM: 12, berthWidthM: 4.5 },
  Gannet: { shoreXM: 66, shoreYM: 90, headingDegrees: 0, berthLengthM: 12, berthWidthM: 4.5 },
  Bellwall: { shoreXM: -5, shoreYM: 34, headingDegrees: 75, berthLengthM: 18, berthWidthM: 7 },
  'Withy Reach': { shoreXM: 112, shoreYM: 88, headingDegrees: 20, berthLengthM: 10, berthWidthM: 4 },
  'Lock Basin': { shoreXM: 160, shoreYM: 80, headingDegrees: 350, berthLengthM: 14, berthWidthM: 5 },
}

/** Each pontoon's berths with the odd numbers on the left, from the shore outwards; the outer wall has boats on its sheltered side alone. */
export function harbourDrawing({ undrawn }: PontoonDrawing): NewPontoonDrawing {
  const pontoons = undrawn.flatMap(({ pontoon, berths }) => {
    const line = pontoon === null ? undefined : LINES[pontoon.name]
    if (pontoon === null || line === undefined) return []
    const drawn = berths.map(({ id }) => ({ id }))
    const isOneSided = pontoon.name === 'Bellwall'
    const left = isOneSided ? [] : drawn.filter((_, index) => index % 2 === 0)
    const right = isOneSided ? drawn : drawn.filter((_, index) => index % 2 === 1)
    return { id: pontoon.id, ...line, left, right }
  })
  return { pontoons, off: [], removed: [] }
}
