import type { Dice } from '../random.js'
import type { Alloy } from '../scenario/anode-bodies.js'
import { type Box, blobPath, isInside, type Outline, type Point } from './outline.js'

/** How the metal looks: dull or bright, how rough, how much white oxide lies on it. */
export interface Finish {
  metal: string
  gleam: string
  /** 0 dull to 1 freshly dissolved. */
  brightness: number
  /** Height of the fine grain. */
  roughness: number
  /** 0 bare to 1 covered. */
  oxide: number
  oxideColour: string
}

const ALLOYS: Readonly<Record<Alloy, Pick<Finish, 'metal' | 'gleam' | 'oxideColour'>>> = {
  zinc: { metal: '#a3acb2', gleam: '#eef6ff', oxideColour: '#dfe3e2' },
  aluminium: { metal: '#c3c2bb', gleam: '#fffdf4', oxideColour: '#f1efe6' },
  magnesium: { metal: '#8f8c86', gleam: '#fff6e6', oxideColour: '#e4ddcf' },
}

export function finishOf(alloy: Alloy, wasted: number, conditions: readonly string[]): Finish {
  const bright = conditions.includes('bright') || conditions.includes('sharp-edged')
  return {
    ...ALLOYS[alloy],
    brightness: bright ? 1 : 0.12,
    roughness: 0.3 + 0.45 * wasted,
    oxide: bright ? 0.1 : 0.4 + 0.25 * wasted,
  }
}

/** Relief of cast and corroded metal: the alpha of what is drawn is its height, lit from the upper left. */
export function reliefFilter(finish: Finish, box: Box, seed: number): string {
  const { metal, gleam, brightness, roughness } = finish
  const region = `filterUnits="userSpaceOnUse" x="${box.left}" y="${box.top}" width="${box.width}" height="${box.height}"`
  return `<filter id="relief" ${region} color-interpolation-filters="sRGB">
    <feTurbulence type="fractalNoise" baseFrequency=".016" numOctaves="3" seed="${seed}"/>
    <feColorMatrix values="0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 1.5 .5 0 0 -.5" result="swell"/>
    <feTurbulence type="fractalNoise" baseFrequency=".1" numOctaves="2" seed="${seed + 1}"/>
    <feColorMatrix values="0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 1 0 0 0 0" result="grain"/>
    <feComposite in="swell" in2="grain" operator="arithmetic" k2=".8" k3="${(0.12 + 0.12 * roughness).toFixed(2)}" result="ground"/>
    <feGaussianBlur in="SourceAlpha" stdDeviation="1.4" result="body"/>
    <feComposite in="body" in2="ground" operator="arithmetic" k1="${(0.5 * roughness).toFixed(2)}" k2="${(1 - 0.5 * roughness).toFixed(2)}" result="height"/>
    <feDiffuseLighting in="height" surfaceScale="${(30 + 8 * roughness).toFixed(0)}" diffuseConstant="1.2" lighting-color="${metal}" result="lit">
      <feDistantLight azimuth="232" elevation="55"/></feDiffuseLighting>
    <feSpecularLighting in="height" surfaceScale="18" specularConstant="${(0.12 + 0.5 * brightness).toFixed(2)}" specularExponent="${(7 + 13 * brightness).toFixed(0)}" lighting-color="${gleam}" result="shine">
      <feDistantLight azimuth="232" elevation="48"/></feSpecularLighting>
    <feComposite in="lit" in2="shine" operator="arithmetic" k2="1" k3=".7"/>
  </filter>`
}

/** A cover with ragged edges, thick where the noise is high: oxide, crust, paint or rust. */
export function patchFilter(
  id: string,
  spec: { frequency: number; seed: number; cover: number; hard: number; relief: number },
): string {
  const { frequency, seed, cover, hard, relief } = spec
  const cut = (0.72 - 0.52 * cover) * hard
  const lighting =
    relief === 0
      ? '<feComposite in="SourceGraphic" in2="patch" operator="in"/>'
      : `<feDiffuseLighting in="patch" surfaceScale="${relief}" diffuseConstant="1.2" lighting-color="#fff" result="lit"><feDistantLight azimuth="232" elevation="55"/></feDiffuseLighting>
         <feComposite in="lit" in2="SourceGraphic" operator="arithmetic" k1="1" result="tinted"/><feComposite in="tinted" in2="patch" operator="in"/>`
  return `<filter id="${id}" x="-5%" y="-5%" width="110%" height="110%" color-interpolation-filters="sRGB">
    <feTurbulence type="fractalNoise" baseFrequency="${frequency}" numOctaves="3" seed="${seed}"/>
    <feColorMatrix values="0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 ${hard} 0 0 0 ${(-cut).toFixed(2)}" result="noise"/>
    <feComposite in="noise" in2="SourceAlpha" operator="in" result="patch"/>
    ${lighting}
  </filter>`
}

/** A crater: where it is, its rim as a path round its own middle, and how deep it goes. */
export interface Pit {
  at: Point
  path: string
  depth: number
}

/** Craters within the outline, many small and a few large, crowding in places, more and deeper with wear. */
export function pitsIn(outline: Outline, box: Box, wasted: number, sharp: boolean, chance: Dice): Pit[] {
  const wanted = Math.round((14 + 110 * wasted) * Math.min(1, (box.width * box.height) / 120_000))
  const anywhere = (): Point => [box.left + box.width * chance.uniform(), box.top + box.height * chance.uniform()]
  const crowds = Array.from({ length: 4 }, anywhere)
  const pits: Pit[] = []
  for (let attempt = 0; attempt < wanted * 3 && pits.length < wanted; attempt += 1) {
    const [x, y] = chance.chance(0.5) ? anywhere() : chance.pick(crowds)
    const at: Point = [chance.normal(x, 26), chance.normal(y, 26)]
    if (!isInside(at, outline)) continue
    const radius = 3 + (8 + 34 * wasted) * chance.uniform() ** 3.2
    const path = blobPath(radius, radius * chance.between(0.5, 1), chance)
    pits.push({ at, path, depth: chance.between(0.25, sharp ? 1 : 0.7) })
  }
  return pits
}

/** The mask that makes height of a piece: full in its middle, low in the pits, falling towards the rim. */
export function heightMask(path: string, pits: readonly Pit[], box: Box, bevel: number): string {
  const craters = pits.map(
    ({ at: [x, y], path: rim, depth }) =>
      `<path transform="translate(${x.toFixed(1)} ${y.toFixed(1)})" d="${rim}" fill="url(#pit)" opacity="${depth.toFixed(2)}"/>`,
  )
  return `<mask id="height" maskUnits="userSpaceOnUse" x="${box.left}" y="${box.top}" width="${box.width}" height="${box.height}">
    <path d="${path}" fill="#fff" fill-rule="evenodd"/>
    <path d="${path}" fill="none" stroke="#000" stroke-width="${bevel}" filter="url(#bevel)"/>
    ${craters.join('')}
  </mask>`
}
