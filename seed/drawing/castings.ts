import type { Shape } from '../scenario/anode-bodies.js'
import { ellipse, type Outline, type Point, rounded } from './outline.js'

/** A new casting as it lies on the bench, in pixels round its middle, and the metal that is cast in. */
export interface Casting {
  /** Pieces of anode metal: two for a collar, which comes in halves. */
  pieces: readonly Outline[]
  /** Thickness [px] that wear can eat from one side before it meets the core. */
  eatable: number
  /** SVG of steel or brass under the anode metal, seen where it ends or is eaten through. */
  coreBelow: string
  /** SVG of what stays on top: bolt holes, screws, plugs. */
  fastenersAbove: string
  /** Centres of holes, where loose or undercut metal shows. */
  holes: readonly Point[]
  /** Shading of a body that is round about its length rather than flat. */
  round: boolean
  pxPerMm: number
}

const HOLE = (x: number, y: number, r: number): string =>
  `<circle cx="${x}" cy="${y}" r="${r + 3}" fill="#6f6f6c"/><circle cx="${x}" cy="${y}" r="${r}" fill="url(#hole)"/>`

const SCREW = (x: number, y: number, r: number, turn: number): string =>
  `<g transform="translate(${x} ${y}) rotate(${turn})"><circle r="${r + 4}" fill="#2b2a28" opacity=".65"/>` +
  `<circle r="${r}" fill="url(#steel)"/><path d="${hexagon(r * 0.5)}" fill="#26272a"/></g>`

const STRAP = (x: number, y: number, width: number, height: number): string => {
  const rust = [0.03, 0.12, 0.3, 0.52, 0.71, 0.9, 0.97].map((along, i) => {
    const [cx, cy] = [x + along * width, y + (0.3 + 0.4 * ((i * 0.37 + 0.2) % 1)) * height]
    return `<ellipse cx="${cx.toFixed(0)}" cy="${cy.toFixed(0)}" rx="${18 + ((i * 11) % 17)}" ry="${7 + ((i * 7) % 9)}" fill="url(#rust)"/>`
  })
  return `<rect x="${x}" y="${y}" width="${width}" height="${height}" rx="9" fill="url(#steel)"/>${rust.join('')}`
}

const CASTINGS: Readonly<Record<Shape, () => Casting>> = {
  'shaft collar': collar,
  disc,
  teardrop,
  bar: () => strapped({ halfLength: 285, halfWidth: 74, draft: 10, corner: 16, ear: 66, pxPerMm: 1.9 }),
  block: () => strapped({ halfLength: 215, halfWidth: 112, draft: 12, corner: 22, ear: 64, pxPerMm: 2.9 }),
  plate,
  'hub cone': hubCone,
  pencil,
}

export function castingOf(shape: Shape): Casting {
  return CASTINGS[shape]()
}

function collar(): Casting {
  const [outer, inner, gap] = [238, 100, 9]
  const half = (side: 1 | -1): Outline => {
    const arc = (radius: number, from: number, to: number): Point[] =>
      Array.from({ length: 60 }, (_, i): Point => {
        const angle = from + ((to - from) * i) / 59
        return [radius * Math.cos(angle), side * (gap + radius * Math.sin(angle))]
      })
    return rounded([...arc(outer, 0.02, Math.PI - 0.02), ...arc(inner, Math.PI - 0.05, 0.05)], 12)
  }
  const middle = (outer + inner) / 2
  const plates = [-1, 1].map(
    (side) => `<rect x="${side * middle - 30}" y="-52" width="60" height="104" rx="8" fill="url(#steel)"/>`,
  )
  return {
    pieces: [half(1), half(-1)],
    eatable: 66,
    coreBelow: plates.join(''),
    fastenersAbove: SCREW(-middle, 46, 17, 12) + SCREW(middle, -46, 17, 40),
    holes: [
      [-middle, 46],
      [middle, -46],
    ],
    round: false,
    pxPerMm: 6.1,
  }
}

function disc(): Casting {
  return {
    pieces: [ellipse(222, 222)],
    eatable: 120,
    coreBelow: '<circle r="92" fill="url(#steel)"/>',
    fastenersAbove: `<circle r="50" fill="url(#steel)"/><circle r="50" fill="none" stroke="#3b3a37" stroke-width="3"/>${HOLE(0, 0, 24)}`,
    holes: [[0, 0]],
    round: false,
    pxPerMm: 4.4,
  }
}

function teardrop(): Casting {
  const corners: Point[] = Array.from({ length: 120 }, (_, i): Point => {
    const angle = (2 * Math.PI * i) / 120
    const taper = 1 - 0.42 * ((1 - Math.cos(angle)) / 2) ** 1.3
    return [315 * Math.cos(angle), 124 * taper * Math.sin(angle)]
  })
  return {
    pieces: [rounded(corners, 20)],
    eatable: 70,
    coreBelow: STRAP(-262, -26, 500, 52),
    fastenersAbove: HOLE(-150, 0, 17) + HOLE(150, 0, 17),
    holes: [
      [-150, 0],
      [150, 0],
    ],
    round: false,
    pxPerMm: 3,
  }
}

interface Strapped {
  halfLength: number
  halfWidth: number
  /** How much narrower the ends are than the middle, so that the casting leaves its mould. */
  draft: number
  corner: number
  /** Length of the strap that sticks out at each end. */
  ear: number
  pxPerMm: number
}

function strapped({ halfLength, halfWidth, draft, corner, ear, pxPerMm }: Strapped): Casting {
  const body: Point[] = [
    [-halfLength, -halfWidth + draft],
    [0, -halfWidth],
    [halfLength, -halfWidth + draft],
    [halfLength, halfWidth - draft],
    [0, halfWidth],
    [-halfLength, halfWidth - draft],
  ]
  const reach = halfLength + ear
  return {
    pieces: [rounded(body, corner)],
    eatable: halfWidth - 26,
    coreBelow: STRAP(-reach, -29, 2 * reach, 58) + HOLE(-reach + 32, 0, 14) + HOLE(reach - 32, 0, 14),
    fastenersAbove: '',
    holes: [
      [-reach + 32, 0],
      [reach - 32, 0],
    ],
    round: false,
    pxPerMm,
  }
}

function plate(): Casting {
  const body: Point[] = [
    [-300, -150],
    [300, -150],
    [300, 150],
    [-300, 150],
  ]
  const holes: Point[] = [
    [-175, 0],
    [175, 0],
  ]
  return {
    pieces: [rounded(body, 40)],
    eatable: 88,
    coreBelow: STRAP(-245, -34, 490, 68),
    fastenersAbove: holes
      .map(([x, y]) => `<ellipse cx="${x}" cy="${y}" rx="38" ry="24" fill="url(#steel)"/>${HOLE(x, y, 16)}`)
      .join(''),
    holes,
    round: false,
    pxPerMm: 2.55,
  }
}

function hubCone(): Casting {
  const profile: Point[] = Array.from({ length: 40 }, (_, i): Point => {
    const t = i / 39
    return [-190 + 400 * t, -150 * Math.sqrt(Math.max(0, 1 - t ** 2.3))]
  })
  const mirrored = profile.toReversed().map(([x, y]): Point => [x, -y])
  return {
    pieces: [rounded([...profile, ...mirrored], 12)],
    eatable: 100,
    coreBelow: `<rect x="-228" y="-112" width="60" height="224" rx="8" fill="url(#brass)"/><rect x="-190" y="-34" width="330" height="68" rx="10" fill="url(#brass)"/>`,
    fastenersAbove: '',
    holes: [[-180, 0]],
    round: true,
    pxPerMm: 6.6,
  }
}

function pencil(): Casting {
  const body: Point[] = [
    [-150, -58],
    [330, -58],
    [330, 58],
    [-150, 58],
  ]
  const threads = Array.from(
    { length: 9 },
    (_, i) => `<path d="M${-232 + i * 10} -66l7 132" stroke="#5b441a" stroke-width="3.4" opacity=".75"/>`,
  )
  return {
    pieces: [rounded(body, 30)],
    eatable: 46,
    coreBelow:
      `<rect x="-160" y="-15" width="420" height="30" rx="8" fill="url(#brass)"/>` +
      `<rect x="-242" y="-66" width="98" height="132" rx="6" fill="url(#brass)"/>${threads.join('')}` +
      `<path d="M-330 -92h84l6 20v144l-6 20h-84l-8 -20v-144z" fill="url(#brass)"/>` +
      `<path d="M-338 -34h96M-338 34h96" stroke="#4c3a16" stroke-width="3" opacity=".6"/>`,
    fastenersAbove: '',
    holes: [[-150, 0]],
    round: true,
    pxPerMm: 7.6,
  }
}

function hexagon(radius: number): string {
  const corners = Array.from({ length: 6 }, (_, i) => {
    const angle = (Math.PI * i) / 3
    return `${(radius * Math.cos(angle)).toFixed(1)} ${(radius * Math.sin(angle)).toFixed(1)}`
  })
  return `M${corners.join('L')}Z`
}
