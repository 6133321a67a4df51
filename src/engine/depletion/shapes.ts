import { OutOfRange } from '../errors.js'

/** Outer dimensions of an anode, as calipers give them; `null` where nobody measured. */
export interface Dimensions {
  readonly lengthMm: number | null
  readonly widthMm: number | null
  readonly heightMm: number | null
}

interface ShapeRow {
  readonly shape: string
  /** Volume over length × width × height [–]. */
  readonly fillFactor: number
  readonly derivation: string
}

/** Plain solids stand for the trade's shapes. Geometry, not measurement: which solid stands for which shape is an assumption. */
export const SHAPES = [
  { shape: 'block', fillFactor: 1, derivation: 'cuboid' },
  { shape: 'bar', fillFactor: 1, derivation: 'cuboid' },
  { shape: 'plate', fillFactor: 1, derivation: 'cuboid' },
  { shape: 'disc', fillFactor: Math.PI / 4, derivation: 'cylinder: π/4 of its box' },
  { shape: 'pencil', fillFactor: Math.PI / 4, derivation: 'cylinder: π/4 of its box' },
  { shape: 'ring', fillFactor: (3 * Math.PI) / 16, derivation: 'cylinder with a bore of half its diameter: 3π/16' },
  {
    shape: 'shaft collar',
    fillFactor: (3 * Math.PI) / 16,
    derivation: 'cylinder with a bore of half its diameter: 3π/16',
  },
  { shape: 'teardrop', fillFactor: Math.PI / 4, derivation: 'as an ellipse in plan: π/4 of its box' },
  { shape: 'hub cone', fillFactor: Math.PI / 12, derivation: 'cone: π/12 of its box' },
] as const satisfies readonly ShapeRow[]

/** A shape that nobody named is taken between a cone and a block. Assumed. */
const UNKNOWN_FILL_FACTOR = 0.7

const AXES = ['lengthMm', 'widthMm', 'heightMm'] as const
const MM3_PER_CM3 = 1000

/**
 * Volume of an anode of a known shape from its outer dimensions.
 *
 *     V = f·L·W·H
 *
 * @param shape the trade's word, any case; an unknown one counts as between a cone and a block
 * @param dimensions all three known, > 0 [mm]
 * @returns volume [cm³]
 * @throws OutOfRange for a dimension that is missing or not positive
 * @example shapeVolume('block', { lengthMm: 100, widthMm: 50, heightMm: 20 }) // 100
 */
export function shapeVolume(shape: string | null, dimensions: Dimensions): number {
  const wanted = shape?.trim().toLowerCase()
  const fillFactor = SHAPES.find((row) => row.shape === wanted)?.fillFactor ?? UNKNOWN_FILL_FACTOR
  let box = 1
  for (const axis of AXES) {
    const value = dimensions[axis]
    if (value === null || !(value > 0 && value < Infinity)) throw new OutOfRange(axis, value, 'above 0 mm')
    box *= value
  }
  return (fillFactor * box) / MM3_PER_CM3
}

/**
 * Share of the volume left, from dimensions measured now and when new. Any solid that shrinks along its axes keeps its fill
 * factor, so the share is the product of the ratios, whatever the shape; a dimension that is known only once is taken as
 * unchanged.
 *
 *     V/V₀ = Π dᵢ/dᵢ₀
 *
 * @returns share [–], or `null` when no dimension is known both times
 * @example remainingShare({ lengthMm: 90, widthMm: 40, heightMm: null }, { lengthMm: 100, widthMm: 50, heightMm: 20 }) // 0.72
 */
export function remainingShare(left: Dimensions, whenNew: Dimensions): number | null {
  const ratios = AXES.flatMap((axis) => {
    const now = left[axis]
    const before = whenNew[axis]
    return now === null || before === null ? [] : [now / before]
  })
  return ratios.length === 0 ? null : ratios.reduce((product, ratio) => product * ratio, 1)
}
