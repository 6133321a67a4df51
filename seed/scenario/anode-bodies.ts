import { shapeVolume } from '../../src/engine/depletion/shapes.js'
import { metalDensity } from '../../src/engine/reference/metal-densities.js'
import type { AnodeAlloy } from '../../src/engine/reference/vocabulary.js'

export type Alloy = AnodeAlloy

export type Shape = 'shaft collar' | 'disc' | 'teardrop' | 'bar' | 'hub cone' | 'pencil' | 'block' | 'plate'

export interface Size {
  readonly lengthMm: number
  readonly widthMm: number
  readonly heightMm: number
}

/** Which metal the invented foundry casts under each name. */
const CASTING_METAL = { zinc: 'zinc', aluminium: 'aluminium-zinc-indium', magnesium: 'magnesium-az63' } as const

function densityOf(alloy: Alloy): number {
  return metalDensity(CASTING_METAL[alloy]).typicalGPerCm3
}

/** Net mass of a new casting [g]. */
export function netMassG(alloy: Alloy, shape: Shape, { lengthMm, widthMm, heightMm }: Size): number {
  return densityOf(alloy) * shapeVolume(shape, { lengthMm, widthMm, heightMm })
}

/**
 * What a scale shows [g] with the piece, steel core and all, hanging in water.
 *
 * @param waterDensity [g/cm³]
 */
export function submergedMassG(alloy: Alloy, netG: number, coreG: number, waterDensity: number): number {
  const steel = metalDensity('mild-steel').typicalGPerCm3
  return netG * (1 - waterDensity / densityOf(alloy)) + coreG * (1 - waterDensity / steel)
}

/**
 * Dimensions left of a casting of which a share of the volume remains. Wear eats the free face fastest, so the height
 * takes half of it and the other two sides a quarter each; their product is the share that remains.
 *
 * @param remaining 0 to 1
 */
export function sizeLeft(size: Size, remaining: number): Size {
  return {
    lengthMm: size.lengthMm * remaining ** 0.25,
    widthMm: size.widthMm * remaining ** 0.25,
    heightMm: size.heightMm * remaining ** 0.5,
  }
}
