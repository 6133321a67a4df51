/** Shapes that are drawn apart; the trade's words are many. */
export type DrawnShape = 'collar' | 'plate' | 'teardrop' | 'cone' | 'disc' | 'pencil'

/** The drawing for a word of the trade; a shape that nobody named is drawn as a plate. */
export function drawnShapeOf(shape: string | null): DrawnShape {
  const word = shape?.toLowerCase() ?? ''
  return WORDS.find(([pattern]) => pattern.test(word))?.[1] ?? 'plate'
}

const WORDS: readonly (readonly [RegExp, DrawnShape])[] = [
  [/collar|ring|bracelet/, 'collar'],
  [/teardrop|drop|pear/, 'teardrop'],
  [/cone|nut|hub/, 'cone'],
  [/disc|disk|round|button/, 'disc'],
  [/pencil|rod|plug/, 'pencil'],
]

type Point = readonly [x: number, y: number]

export interface Outlines {
  /** When new. */
  readonly whole: readonly Point[]
  /** What is left. */
  readonly left: readonly Point[]
  /** Insert, strap or bolt, which does not waste. */
  readonly core: readonly Point[]
}

/** Points of an outline: enough for pits to show. */
const POINTS = 96
/** Depth of the pits beside the mean loss, and how many there are: as a look at worn anodes has it. Assumed. */
const PIT_DEPTH = 0.32
const PIT_WAVES: readonly (readonly [waves: number, share: number, phase: number])[] = [
  [5, 0.5, 0.4],
  [9, 0.3, 2.1],
  [17, 0.2, 4.4],
]

/**
 * An anode seen from the side with a share of its metal gone. The area between what is left and the core is that share short
 * of what it was when new: the depth is found by halving, so that a drawing marked 50 % has lost half.
 *
 * @param wasted share gone, 0 to 1
 */
export function wastedOutline(shape: DrawnShape, wasted: number): Outlines {
  const { outer, inner } = BODIES[shape]
  const whole = sampled(outer)
  const core = sampled(inner)
  const wanted = area(core) + (1 - wasted) * (area(whole) - area(core))
  let [shallow, deep] = [0, 1]
  for (let halving = 0; halving < 40; halving++) {
    const depth = (shallow + deep) / 2
    if (area(eaten(whole, core, depth)) > wanted) shallow = depth
    else deep = depth
  }
  return { whole, core, left: eaten(whole, core, wasted === 0 ? 0 : (shallow + deep) / 2) }
}

/** An outline as SVG path data. @example pathOf([[0, 0], [1, 0], [1, 1]]) // 'M0 0L1 0L1 1Z' */
export function pathOf(points: readonly Point[]): string {
  return `M${points.map(([x, y]) => `${Number(x.toFixed(2))} ${Number(y.toFixed(2))}`).join('L')}Z`
}

/** Area of a polygon: the shoelace formula. */
export function area(points: readonly Point[]): number {
  const twice = points.reduce((sum, [x, y], index) => {
    const [nextX, nextY] = points[(index + 1) % points.length] ?? [x, y]
    return sum + x * nextY - nextX * y
  }, 0)
  return Math.abs(twice) / 2
}

function eaten(whole: readonly Point[], core: readonly Point[], depth: number): Point[] {
  return whole.map(([x, y], index): Point => {
    const [coreX, coreY] = core[index] ?? [x, y]
    const angle = (2 * Math.PI * index) / whole.length
    const waves = PIT_WAVES.reduce((sum, [count, share, phase]) => sum + share * Math.sin(count * angle + phase), 0)
    const share = Math.min(1, Math.max(0, depth * (1 + PIT_DEPTH * (1 - depth) * waves)))
    return [x + share * (coreX - x), y + share * (coreY - y)]
  })
}

type Curve = (angle: number) => Point

/** A rounded box, as a superellipse: the larger the power, the squarer. */
const box =
  (halfWidth: number, halfHeight: number, power: number, top = 1): Curve =>
  (angle) => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)]
    const radius = (Math.abs(c) ** power + Math.abs(s) ** power) ** (-1 / power)
    return [50 + halfWidth * radius * c, 32 + halfHeight * radius * s * (s < 0 ? top : 1)]
  }

/** Tapered along its length: `taper` of the height is left at the thin end. */
const tapered =
  (curve: Curve, taper: number): Curve =>
  (angle) => {
    const [x, y] = curve(angle)
    const along = (x - 8) / 84
    return [x, 32 + (y - 32) * (1 - along * (1 - taper))]
  }

const BODIES: Readonly<Record<DrawnShape, { readonly outer: Curve; readonly inner: Curve }>> = {
  collar: { outer: box(30, 27, 5), inner: box(30, 8, 12) },
  plate: { outer: box(42, 17, 6), inner: box(40, 3, 10) },
  teardrop: { outer: tapered(box(42, 22, 2.6), 0.3), inner: box(38, 2.5, 8) },
  cone: { outer: tapered(box(36, 27, 3.5), 0.35), inner: box(32, 4, 8) },
  disc: { outer: box(27, 27, 2), inner: box(6, 6, 2) },
  pencil: { outer: box(42, 9, 5), inner: box(10, 1.5, 6) },
}

function sampled(curve: Curve): Point[] {
  return Array.from({ length: POINTS }, (_, index) => curve((2 * Math.PI * index) / POINTS))
}
