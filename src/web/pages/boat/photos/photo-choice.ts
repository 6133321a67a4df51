import type { DepletionView } from '../../../../contract/forecasts.js'
import type { PhotoView } from '../../../../contract/photos.js'

/** Photos of one position, across the anodes that sat there and the days they were seen; the oldest first. */
export interface PositionPhotos {
  readonly position: string
  readonly photos: readonly PhotoView[]
}

/** What a photo belongs to that shows a whole haul-out. */
export const WHOLE_BOAT = 'whole boat'

/** The positions of which there are at least two photos to compare, the one seen last in front. */
export function comparablePositions({ anodes }: DepletionView, photos: readonly PhotoView[]): PositionPhotos[] {
  const labels = new Map(anodes.map((each) => [each.anode, labelOf(each, anodes)]))
  const groups = new Map<string, PhotoView[]>()
  for (const photo of photos) {
    const position = photo.anode === null ? WHOLE_BOAT : (labels.get(photo.anode) ?? photo.anode)
    groups.set(position, [...(groups.get(position) ?? []), photo])
  }
  return [...groups]
    .map(([position, seen]) => ({ position, photos: seen.toSorted((a, b) => compare(a.date, b.date)) }))
    .filter((group) => group.photos.length > 1)
    .toSorted((a, b) => compare(b.photos.at(-1)?.date ?? '', a.photos.at(-1)?.date ?? ''))
}

type Anode = DepletionView['anodes'][number]

/** Where a label stands for several positions, its number tells them apart. */
function labelOf({ position, positionSlot }: Anode, all: readonly Anode[]): string {
  const isOne = all.every((each) => each.position !== position || each.positionSlot === positionSlot)
  return isOne ? position : `${position} ${positionSlot}`
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

/** The pair to begin with: the two last days on which there is a photo, else the two last photos. */
export function firstPair(photos: readonly PhotoView[]): { before: PhotoView; after: PhotoView } | null {
  const after = photos.at(-1)
  if (after === undefined) return null
  const before = photos.findLast(({ date }) => date < after.date) ?? photos.at(-2)
  return before === undefined ? null : { before, after }
}
