import type { Dice } from '../random.js'

export type Point = readonly [x: number, y: number]

/** A closed curve as many points, near enough together that straight lines between them look smooth. */
export type Outline = readonly Point[]

const STEP_PX = 3

/** Points along straight edges between corners, the corners rounded off by passing a window of the given width along. */
export function rounded(corners: Outline, windowPx: number): Outline {
  const dense = corners.flatMap((corner, index) => {
    const next = corners[(index + 1) % corners.length]!
    const steps = Math.max(1, Math.round(Math.hypot(next[0] - corner[0], next[1] - corner[1]) / STEP_PX))
    return Array.from({ length: steps }, (_, step): Point => {
      const t = step / steps
      return [corner[0] + t * (next[0] - corner[0]), corner[1] + t * (next[1] - corner[1])]
    })
  })
  return smoothed(dense, Math.max(1, Math.round(windowPx / STEP_PX)))
}

export function ellipse(rx: number, ry: number, centre: Point = [0, 0]): Outline {
  const count = Math.max(24, Math.round((Math.PI * (rx + ry)) / STEP_PX))
  return Array.from({ length: count }, (_, index): Point => {
    const angle = (2 * Math.PI * index) / count
    return [centre[0] + rx * Math.cos(angle), centre[1] + ry * Math.sin(angle)]
  })
}

/**
 * The outline after wear: pushed inwards by a depth that varies along it, sharp corners gone first.
 *
 * @param depthPx mean depth of the loss
 * @param unevenness 0 (the same all round) to 1 (some places untouched, some twice as deep)
 */
export function eroded(outline: Outline, depthPx: number, unevenness: number, chance: Dice): Outline {
  const noise = ringNoise(chance)
  const count = outline.length
  const turn = Math.sign(signedArea(outline))
  // A corner tighter than the depth would fold over itself.
  const open = smoothed(outline, Math.round((1.2 * depthPx) / STEP_PX))
  const pushed = open.map((point, index): Point => {
    const before = open[(index + count - 2) % count]!
    const after = open[(index + 2) % count]!
    const along = Math.hypot(after[0] - before[0], after[1] - before[1]) || 1
    const depth = Math.max(0, depthPx * (1 + unevenness * noise(index / count)))
    const inward: Point = [(-turn * (after[1] - before[1])) / along, (turn * (after[0] - before[0])) / along]
    return [point[0] + depth * inward[0], point[1] + depth * inward[1]]
  })
  return smoothed(pushed, 1 + Math.round(depthPx / 12))
}

/** Everything to the right of a jagged line is gone. */
export function snapped(outline: Outline, cutX: number, chance: Dice): Outline {
  const noise = ringNoise(chance)
  return outline.map(([x, y]): Point => [Math.min(x, cutX + 0.25 * y + 14 * noise(((y + 4000) % 400) / 400)), y])
}

export function pathOf(...outlines: readonly Outline[]): string {
  return outlines.map((outline) => `M${outline.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}Z`).join('')
}

/** A smooth blob round the origin, not quite an ellipse, as one path. */
export function blobPath(rx: number, ry: number, chance: Dice): string {
  const count = 9
  const corners = Array.from({ length: count }, (_, index): Point => {
    const angle = (2 * Math.PI * index) / count
    const reach = chance.between(0.68, 1.2)
    return [rx * reach * Math.cos(angle), ry * reach * Math.sin(angle)]
  })
  const middle = (index: number): string => {
    const [a, b] = [corners[index % count]!, corners[(index + 1) % count]!]
    return `${((a[0] + b[0]) / 2).toFixed(1)} ${((a[1] + b[1]) / 2).toFixed(1)}`
  }
  const curves = corners.map((_, index) => {
    const [x, y] = corners[(index + 1) % count]!
    return `Q${x.toFixed(1)} ${y.toFixed(1)} ${middle(index + 1)}`
  })
  return `M${middle(0)}${curves.join('')}Z`
}

export interface Box {
  left: number
  top: number
  width: number
  height: number
}

export function boxAround(outlines: readonly Outline[], margin: number): Box {
  const xs = outlines.flat().map(([x]) => x)
  const ys = outlines.flat().map(([, y]) => y)
  const [left, top] = [Math.min(...xs) - margin, Math.min(...ys) - margin]
  return { left, top, width: Math.max(...xs) + margin - left, height: Math.max(...ys) + margin - top }
}

export function isInside([x, y]: Point, outline: Outline): boolean {
  let inside = false
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i, i += 1) {
    const [xi, yi] = outline[i]!
    const [xj, yj] = outline[j]!
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside
  }
  return inside
}

/** Smooth noise round a ring, mean 0, about ±1: a few long waves and many short ones. */
function ringNoise(chance: Dice): (turn: number) => number {
  const waves = [2, 3, 5, 7, 11, 17, 26, 39, 57, 80].map((n) => ({
    n,
    size: chance.between(0.5, 1) / n ** 0.62,
    phase: chance.between(0, 2 * Math.PI),
  }))
  return (turn) => waves.reduce((sum, { n, size, phase }) => sum + size * Math.sin(2 * Math.PI * n * turn + phase), 0)
}

function smoothed(outline: Outline, wanted: number): Outline {
  const count = outline.length
  const reach = Math.min(wanted, Math.floor(count / 8))
  return outline.map((_, index): Point => {
    let [x, y] = [0, 0]
    for (let offset = -reach; offset <= reach; offset += 1) {
      const point = outline[(index + offset + count * (1 + reach)) % count]!
      x += point[0]
      y += point[1]
    }
    return [x / (2 * reach + 1), y / (2 * reach + 1)]
  })
}

function signedArea(outline: Outline): number {
  return outline.reduce((sum, [x, y], index) => {
    const next = outline[(index + 1) % outline.length]!
    return sum + x * next[1] - next[0] * y
  }, 0)
}
