import sharp from 'sharp'
import { type Dice, dice } from '../random.js'
import type { Alloy, Shape } from '../scenario/anode-bodies.js'
import { BENCHES, type Bench, benchSvg, HEIGHT, rulerSvg, WIDTH } from './bench.js'
import { type Casting, castingOf } from './castings.js'
import { coversSvg } from './covers.js'
import { boxAround, ellipse, eroded, isInside, type Outline, type Point, pathOf, snapped } from './outline.js'
import { finishOf, heightMask, pitsIn, reliefFilter } from './surface.js'

/** One picture: what lies on the bench and how it has fared. */
export interface PhotoSubject {
  alloy: Alloy
  shape: Shape
  /** Share of the net mass that is gone, 0 to 1. */
  wastedFraction: number
  /** Condition codes as a weighing has them. */
  conditions: readonly string[]
  /** Another number gives another piece on another bench. */
  variant: number
}

const JPEG_QUALITY = 84

/** The anode is drawn at this share of the picture's resolution: no sharper than a hand-held camera, in half the time. */
const DETAIL = 0.7

const PIXELS = { width: WIDTH, height: HEIGHT } as const

const benches = new Map<Bench, Promise<Buffer>>()

/**
 * A made-up photograph of a worn anode on a workbench: 1200 × 900 pixels, JPEG. The same subject gives the same picture.
 *
 * @throws RangeError for a wasted fraction outside 0 to 1
 * @example await drawAnodePhoto({ alloy: 'zinc', shape: 'disc', wastedFraction: 0.6, conditions: ['even'], variant: 1 })
 */
export async function drawAnodePhoto(subject: PhotoSubject): Promise<Buffer> {
  const { wastedFraction } = subject
  if (!(wastedFraction >= 0 && wastedFraction <= 1)) {
    throw new RangeError(`wasted fraction ${wastedFraction}, not 0 to 1`)
  }
  const bench = await benchPixels(BENCHES[Math.abs(Math.trunc(subject.variant)) % BENCHES.length]!)
  // Drawn first, enlarged after: asked for both at once, sharp would draw at the full size, which takes twice as long.
  const drawn = await sharp(Buffer.from(subjectSvg(subject)))
    .raw()
    .toBuffer({ resolveWithObject: true })
  const anode = await sharp(drawn.data, { raw: drawn.info }).resize(WIDTH, HEIGHT).raw().toBuffer()
  return sharp(bench, { raw: { ...PIXELS, channels: 3 } })
    .composite([{ input: anode, raw: { ...PIXELS, channels: 4 } }])
    .jpeg({ quality: JPEG_QUALITY })
    .toBuffer()
}

/** A bench is drawn once and used for many pictures. */
function benchPixels(bench: Bench): Promise<Buffer> {
  const svg = Buffer.from(benchSvg(bench, dice('bench', bench)))
  const pixels = benches.get(bench) ?? sharp(svg).removeAlpha().raw().toBuffer()
  benches.set(bench, pixels)
  return pixels
}

/** The anode, its shadow and the ruler, without the bench. */
export function subjectSvg(subject: PhotoSubject): string {
  const { alloy, shape, wastedFraction, conditions, variant } = subject
  const chance = dice(alloy, shape, wastedFraction.toFixed(3), conditions.join(';'), variant)
  const casting = castingOf(shape)
  const pieces = wornPieces(casting, subject, chance)
  const box = boxAround(pieces, 12)
  const path = pathOf(...pieces, ...eatenThrough(casting, pieces, wastedFraction, chance))
  const sharpEdged = conditions.includes('sharp-edged')
  const pits = pieces.flatMap((piece) => pitsIn(piece, boxAround([piece], 0), wastedFraction, sharpEdged, chance))
  const finish = finishOf(alloy, wastedFraction, conditions)
  const seed = Math.floor(chance.between(1, 9000))
  const covers = coversSvg({ path, box, finish, conditions, casting, seed, chance })
  const bevel = Math.max(14, casting.eatable * (sharpEdged ? 0.25 : 0.55) * (1 - 0.5 * wastedFraction))
  const zoom = zoomFor(casting) * chance.between(0.9, 1)
  const turn = chance.between(-9, 9).toFixed(1)
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${DETAIL * WIDTH}" height="${DETAIL * HEIGHT}" viewBox="0 0 ${WIDTH} ${HEIGHT}">
  <defs>${DEFINITIONS}${reliefFilter(finish, box, seed)}${heightMask(path, pits, box, bevel)}
    <clipPath id="outline"><path d="${path}" clip-rule="evenodd"/></clipPath>${covers.definitions}</defs>
  ${rulerSvg(casting.pxPerMm * zoom, chance)}
  <g transform="translate(${(600 + chance.between(-26, 26)).toFixed(0)} ${(398 + chance.between(-14, 14)).toFixed(0)}) rotate(${turn}) scale(${zoom.toFixed(3)})">
    <g transform="translate(16 22)" filter="url(#cast)" opacity=".62"><path d="${path}" fill-rule="evenodd"/><g>${casting.coreBelow}</g></g>
    <g>${casting.coreBelow}</g>
    <path d="${path}" fill="#000" opacity=".5" fill-rule="evenodd" transform="translate(4 6)" filter="url(#contact)"/>
    <g clip-path="url(#outline)">
      <g filter="url(#relief)"><path d="${path}" fill="#fff" fill-rule="evenodd" mask="url(#height)"/></g>
      <path d="${path}" fill="${finish.metal}" fill-rule="evenodd" opacity=".3"/>
      ${covers.body}
      ${casting.round ? roundShade(pieces) : ''}
      <path d="${path}" fill="none" stroke="#07090c" stroke-width="26" opacity=".55" transform="translate(-5 -7)" filter="url(#rim)"/>
    </g>
    <path d="${path}" fill="none" stroke="#0c0d0f" stroke-width="2" opacity=".45"/>
    ${casting.fastenersAbove}
    ${covers.around}
  </g>
</svg>`
}

/** As large as the space above the ruler allows. */
function zoomFor({ pieces }: Casting): number {
  const { width, height } = boxAround(pieces, 40)
  return Math.min(1.5, 960 / width, 620 / height)
}

function wornPieces(casting: Casting, { wastedFraction, conditions }: PhotoSubject, chance: Dice): Outline[] {
  const depth = casting.eatable * (1 - (1 - wastedFraction) ** 0.42)
  const unevenness = conditions.includes('sharp-edged') || conditions.includes('undercut') ? 0.75 : 0.5
  return casting.pieces.map((piece) => {
    const worn = eroded(piece, depth, unevenness, chance)
    if (!conditions.includes('broken')) return worn
    const right = Math.max(...worn.map(([x]) => x))
    return snapped(worn, right * chance.between(0.2, 0.45), chance)
  })
}

/** Far gone, the metal has holes through which the core shows. */
function eatenThrough(casting: Casting, pieces: readonly Outline[], wasted: number, chance: Dice): Outline[] {
  const count = Math.round(Math.max(0, wasted - 0.55) * 22)
  const holes: Outline[] = []
  for (let attempt = 0; attempt < 80 && holes.length < count; attempt += 1) {
    const piece = chance.pick(pieces)
    const at: Point = chance.pick(piece)
    const inner: Point = [at[0] * chance.between(0.1, 0.8), at[1] * chance.between(0, 0.6)]
    if (!isInside(inner, piece)) continue
    const radius = casting.eatable * chance.between(0.08, 0.16 + 0.25 * wasted)
    holes.push(eroded(ellipse(radius * chance.between(1, 1.8), radius, inner), radius * 0.3, 0.9, chance))
  }
  return holes
}

/** A round body is light along its upper flank and dark below. */
function roundShade(pieces: readonly Outline[]): string {
  const { left, top, width, height } = boxAround(pieces, 4)
  return `<rect x="${left}" y="${top}" width="${width}" height="${height}" fill="url(#barrel)"/>`
}

const DEFINITIONS = `
  <linearGradient id="steel" x1="0" y1="0" x2=".25" y2="1"><stop offset="0" stop-color="#b9bbbb"/><stop offset=".5" stop-color="#85888a"/><stop offset="1" stop-color="#5d6062"/></linearGradient>
  <linearGradient id="brass" x1="0" y1="0" x2="0" y2="1"><stop offset="0" stop-color="#8d7437"/><stop offset=".3" stop-color="#dcc27a"/><stop offset=".65" stop-color="#a18441"/><stop offset="1" stop-color="#54421b"/></linearGradient>
  <linearGradient id="ruler" x1="0" y1="0" x2=".15" y2="1"><stop offset="0" stop-color="#d4d7d8"/><stop offset=".5" stop-color="#bfc3c5"/><stop offset="1" stop-color="#a3a8ab"/></linearGradient>
  <linearGradient id="barrel" x1="0" y1="0" x2="0" y2="1"><stop offset="0" stop-color="#000" stop-opacity=".28"/><stop offset=".26" stop-color="#fff" stop-opacity=".26"/><stop offset=".55" stop-color="#000" stop-opacity=".08"/><stop offset="1" stop-color="#000" stop-opacity=".66"/></linearGradient>
  <radialGradient id="rust"><stop offset="0" stop-color="#8f4a1d" stop-opacity=".75"/><stop offset=".5" stop-color="#9a5a2c" stop-opacity=".4"/><stop offset="1" stop-color="#9a5a2c" stop-opacity="0"/></radialGradient>
  <radialGradient id="hole"><stop offset="0" stop-color="#0d0d0d"/><stop offset=".75" stop-color="#171717"/><stop offset="1" stop-color="#3a3936"/></radialGradient>
  <radialGradient id="pit"><stop offset="0" stop-color="#000" stop-opacity=".8"/><stop offset=".6" stop-color="#000" stop-opacity=".62"/><stop offset=".85" stop-color="#000" stop-opacity=".16"/><stop offset="1" stop-color="#000" stop-opacity="0"/></radialGradient>
  <filter id="bevel" x="-10%" y="-10%" width="120%" height="120%"><feGaussianBlur stdDeviation="9"/></filter>
  <filter id="rim" x="-10%" y="-10%" width="120%" height="120%"><feGaussianBlur stdDeviation="8"/></filter>
  <filter id="shadow" x="-5%" y="-30%" width="110%" height="170%"><feGaussianBlur stdDeviation="6"/></filter>
  <filter id="cast" x="-15%" y="-20%" width="135%" height="150%"><feColorMatrix values="0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 1 0"/><feGaussianBlur stdDeviation="15"/></filter>
  <filter id="contact" x="-8%" y="-8%" width="116%" height="120%"><feGaussianBlur stdDeviation="4"/></filter>`
