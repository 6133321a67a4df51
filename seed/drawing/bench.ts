import type { Dice } from '../random.js'

export const WIDTH = 1200
export const HEIGHT = 900

/** Surfaces that an anode is put down on for its picture. */
export const BENCHES = ['planks', 'steel', 'mat', 'concrete'] as const
export type Bench = (typeof BENCHES)[number]

interface Surface {
  base: string
  /** Colour of the darker stuff in it, as three shares. */
  tint: string
  /** Noise along and across, and how strongly each darkens: coarse first. */
  grain: readonly { frequency: string; strength: number }[]
  marks: (chance: Dice) => string
}

const SURFACES: Readonly<Record<Bench, Surface>> = {
  planks: {
    base: '#a67c52',
    tint: '.22 .12 .05',
    grain: [
      { frequency: '.0016 .022', strength: 1.3 },
      { frequency: '.007 .16', strength: 1.1 },
      { frequency: '.02 .5', strength: 0.6 },
    ],
    marks: planks,
  },
  steel: {
    base: '#7d858c',
    tint: '.1 .11 .13',
    grain: [
      { frequency: '.003 .01', strength: 0.5 },
      { frequency: '.012 .4', strength: 0.45 },
    ],
    marks: scratches,
  },
  mat: {
    base: '#35584f',
    tint: '.03 .07 .06',
    grain: [
      { frequency: '.006 .006', strength: 0.6 },
      { frequency: '.6 .6', strength: 0.5 },
    ],
    marks: scratches,
  },
  concrete: {
    base: '#a7a39b',
    tint: '.27 .26 .24',
    grain: [
      { frequency: '.005 .005', strength: 0.7 },
      { frequency: '.05 .05', strength: 0.4 },
      { frequency: '.4 .4', strength: 0.7 },
    ],
    marks: pores,
  },
}

/** The bench alone, with the light of a window from the upper left. */
export function benchSvg(bench: Bench, chance: Dice): string {
  const { base, tint, grain, marks } = SURFACES[bench]
  const filters = grain.map((layer, index) =>
    grainFilter(`grain${index}`, layer, tint, Math.floor(chance.between(1, 900))),
  )
  const layers = grain.map((_, index) => `<rect width="100%" height="100%" filter="url(#grain${index})"/>`)
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}">
  <defs>${filters.join('')}
    <filter id="soft"><feGaussianBlur stdDeviation="1.2"/></filter>
    <radialGradient id="window" cx=".3" cy=".22" r="1"><stop offset="0" stop-color="#fff6e2" stop-opacity=".42"/>
      <stop offset=".45" stop-color="#fff" stop-opacity="0"/><stop offset="1" stop-color="#05070b" stop-opacity=".5"/></radialGradient>
  </defs>
  <rect width="100%" height="100%" fill="${base}"/>
  ${layers.join('')}
  ${marks(chance)}
  <rect width="100%" height="100%" fill="url(#window)"/>
</svg>`
}

function grainFilter(
  id: string,
  { frequency, strength }: Surface['grain'][number],
  tint: string,
  seed: number,
): string {
  const [r, g, b] = tint.split(' ')
  const values = `0 0 0 0 ${r} 0 0 0 0 ${g} 0 0 0 0 ${b} ${strength} 0 0 0 ${(-0.36 * strength).toFixed(2)}`
  return `<filter id="${id}" x="0" y="0" width="100%" height="100%" color-interpolation-filters="sRGB">
    <feTurbulence type="fractalNoise" baseFrequency="${frequency}" numOctaves="4" seed="${seed}"/>
    <feColorMatrix values="${values}"/></filter>`
}

function planks(chance: Dice): string {
  const seams = [chance.between(170, 230), chance.between(470, 540), chance.between(770, 830)]
  const lines = seams.map(
    (y) =>
      `<path d="M0 ${y}C400 ${y + chance.between(-2, 2)} 800 ${y + chance.between(-2, 2)} 1200 ${y}" stroke="#2e1b0d" stroke-width="5" fill="none" opacity=".8"/>` +
      `<path d="M0 ${y + 4}H1200" stroke="#d8aa78" stroke-width="2" opacity=".35"/>`,
  )
  const knots = Array.from({ length: 3 }, () => {
    const [x, y] = [chance.between(80, 1120), chance.between(60, 840)]
    return `<g filter="url(#soft)" opacity=".55"><ellipse cx="${x}" cy="${y}" rx="26" ry="11" fill="#5a361b"/><ellipse cx="${x}" cy="${y}" rx="42" ry="18" fill="none" stroke="#6b4424" stroke-width="4"/></g>`
  })
  return `${knots.join('')}${lines.join('')}${scratches(chance)}`
}

function scratches(chance: Dice): string {
  const lines = Array.from({ length: 26 }, () => {
    const [x, y] = [chance.between(0, WIDTH), chance.between(0, HEIGHT)]
    const [dx, dy] = [chance.between(-160, 160), chance.between(-50, 50)]
    const light = chance.chance(0.6)
    return `<path d="M${x.toFixed(0)} ${y.toFixed(0)}q${(dx / 2).toFixed(0)} ${(dy * 0.2).toFixed(0)} ${dx.toFixed(0)} ${dy.toFixed(0)}" stroke="${light ? '#fff' : '#000'}" stroke-width="${chance.between(0.6, 1.8).toFixed(1)}" opacity="${chance.between(0.06, 0.22).toFixed(2)}" fill="none"/>`
  })
  return lines.join('')
}

function pores(chance: Dice): string {
  const dots = Array.from({ length: 170 }, () => {
    const r = 0.8 + 3 * chance.uniform() ** 3
    const [x, y] = [chance.between(0, WIDTH).toFixed(0), chance.between(0, HEIGHT).toFixed(0)]
    return `<circle cx="${x}" cy="${y}" r="${r.toFixed(1)}" fill="#3c3a36" opacity="${chance.between(0.2, 0.6).toFixed(2)}"/>`
  })
  const crack = `<path d="M${chance.between(700, 1100).toFixed(0)} 0l-30 90l24 60l-50 120l16 70l-44 90" stroke="#4a4742" stroke-width="2.4" fill="none" opacity=".55"/>`
  return dots.join('') + crack
}

/** Digits as strokes in a box of 10 by 16, so that no font is needed. */
const DIGITS = [
  'M5 0C1 0 1 16 5 16C9 16 9 0 5 0',
  'M3 3L6 0V16',
  'M1 4C1-1 9-1 9 4C9 8 1 11 1 16H9',
  'M1 2C3-1 9-1 9 4C9 8 5 8 4 8C6 8 9 8 9 12C9 17 2 17 1 14',
  'M7 16V0L0 11H10',
  'M9 0H2L1 7C4 5 9 6 9 11C9 17 2 17 1 14',
  'M8 1C3-1 1 5 1 11C1 18 9 17 9 11C9 6 3 6 1 10',
  'M1 0H9L4 16',
  'M5 8C0 7 0 0 5 0C10 0 10 7 5 8C-1 9-1 16 5 16C11 16 11 9 5 8',
  'M2 15C7 17 9 11 9 5C9-2 1-1 1 5C1 10 7 10 9 6',
]

/** A plain steel ruler in millimetres, lying along the lower edge. */
export function rulerSvg(pxPerMm: number, chance: Dice): string {
  const [length, width] = [980, 86]
  const millimetres = Math.floor((length - 40) / pxPerMm)
  const every = pxPerMm < 2.6 ? 2 : 1
  const ticks: string[] = []
  for (let mm = 0; mm <= millimetres; mm += every) {
    const reach = mm % 10 === 0 ? 30 : mm % 5 === 0 ? 22 : 14
    ticks.push(`M${(20 + mm * pxPerMm).toFixed(1)} 0v${reach}`)
  }
  // Small scales have room for a number at every fifth centimetre only.
  const step = pxPerMm < 3.6 ? 5 : 1
  const numbers = Array.from({ length: Math.floor(millimetres / 10 / step) + 1 }, (_, i) =>
    numberSvg(i * step, 20 + i * step * 10 * pxPerMm),
  )
  const [x, y, turn] = [chance.between(90, 140), chance.between(752, 772), chance.between(-1.6, 1.6)]
  return `<g transform="translate(${x.toFixed(0)} ${y.toFixed(0)}) rotate(${turn.toFixed(2)} 490 40)">
    <rect x="5" y="9" width="${length}" height="${width}" rx="4" fill="#000" opacity=".5" filter="url(#shadow)"/>
    <rect width="${length}" height="${width}" rx="4" fill="url(#ruler)"/>
    <rect x=".5" y=".5" width="${length - 1}" height="${width - 1}" rx="4" fill="none" stroke="#fff" stroke-opacity=".5"/>
    <circle cx="${length - 16}" cy="${width / 2 + 24}" r="8" fill="#3b3b39"/>
    <path d="${ticks.join('')}" stroke="#17181a" stroke-width="1.5"/>
    <g fill="none" stroke="#17181a" stroke-width="1.9" stroke-linecap="round">${numbers.join('')}</g>
  </g>`
}

function numberSvg(value: number, x: number): string {
  const digits = [...String(value)]
  const start = x - (digits.length * 13) / 2
  return digits
    .map(
      (digit, i) => `<path transform="translate(${(start + i * 13 + 1).toFixed(1)} 38)" d="${DIGITS[Number(digit)]}"/>`,
    )
    .join('')
}
