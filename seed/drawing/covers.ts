import type { Dice } from '../random.js'
import type { Casting } from './castings.js'
import type { Box } from './outline.js'
import { type Finish, patchFilter } from './surface.js'

interface Covered {
  path: string
  box: Box
  finish: Finish
  conditions: readonly string[]
  casting: Casting
  seed: number
  chance: Dice
}

/** What lies on the metal (oxide, crust, paint) and round it (crumbs, rust of a loose bolt), as the conditions have it. */
export function coversSvg(covered: Covered): { definitions: string; body: string; around: string } {
  const layers = [
    oxide(covered),
    ...covered.conditions.flatMap((code) => (LAYERS[code] ?? []).map((layer) => layer(covered))),
  ]
  return {
    definitions: layers.map((layer) => layer.definitions ?? '').join(''),
    body: layers.map((layer) => layer.body ?? '').join(''),
    around: layers.map((layer) => layer.around ?? '').join('') + crumbs(covered),
  }
}

interface Layer {
  definitions?: string
  body?: string
  around?: string
}

const LAYERS: Readonly<Record<string, readonly ((covered: Covered) => Layer)[]>> = {
  crusted: [crust],
  painted: [paint],
  loose: [loose],
  undercut: [undercut],
  'paint-blistered': [flakes],
}

/** White oxide and dark tarnish, from one noise: making noise takes most of the time that a picture takes. */
function oxide({ path, box, finish, seed }: Covered): Layer {
  const region = `filterUnits="userSpaceOnUse" x="${box.left}" y="${box.top}" width="${box.width}" height="${box.height}"`
  const [r, g, b] = [1, 3, 5].map((at) => (Number.parseInt(finish.oxideColour.slice(at, at + 2), 16) / 255).toFixed(2))
  const cut = 0.72 - 0.52 * finish.oxide
  const dark = (0.42 * (1 - finish.brightness)).toFixed(2)
  return {
    definitions: `<filter id="film" ${region} color-interpolation-filters="sRGB">
      <feTurbulence type="fractalNoise" baseFrequency=".012" numOctaves="3" seed="${seed + 3}" result="noise"/>
      <feColorMatrix in="noise" values="0 0 0 0 .23 0 0 0 0 .26 0 0 0 0 .28 0 ${(2.4 * Number(dark)).toFixed(2)} 0 0 ${(-1.1 * Number(dark)).toFixed(2)}" result="tarnish"/>
      <feColorMatrix in="noise" values="0 0 0 0 ${r} 0 0 0 0 ${g} 0 0 0 0 ${b} 1.9 0 0 0 ${(-1.9 * cut).toFixed(2)}" result="oxide"/>
      <feMerge><feMergeNode in="tarnish"/><feMergeNode in="oxide"/></feMerge></filter>`,
    body: `<path d="${path}" fill-rule="evenodd" filter="url(#film)"/>`,
  }
}

/** Chalk-white and tan, thick as a shell: what zinc grows in fresh water. */
function crust({ path, seed }: Covered): Layer {
  return {
    definitions:
      patchFilter('crust', { frequency: 0.03, seed: seed + 11, cover: 1.05, hard: 2.2, relief: 9 }) +
      patchFilter('crustTan', { frequency: 0.015, seed: seed + 12, cover: 0.5, hard: 2.8, relief: 0 }),
    body:
      `<path d="${path}" fill="#e4dccb" fill-rule="evenodd" filter="url(#crust)" opacity=".94"/>` +
      `<path d="${path}" fill="#a98e62" fill-rule="evenodd" filter="url(#crustTan)" opacity=".5"/>`,
  }
}

const ANTIFOULINGS = ['#7d2620', '#24456b', '#22252b'] as const

function paint({ path, seed, chance }: Covered): Layer {
  return {
    definitions: patchFilter('paint', { frequency: 0.014, seed: seed + 21, cover: 0.98, hard: 7, relief: 3 }),
    body: `<path d="${path}" fill="${chance.pick(ANTIFOULINGS)}" fill-rule="evenodd" filter="url(#paint)" opacity=".84"/>`,
  }
}

/** A hole worn long by a bolt that moved, with rust run out of it. */
function loose({ casting }: Covered): Layer {
  const [x, y] = casting.holes[0]!
  return {
    around:
      `<ellipse cx="${x + 18}" cy="${y + 8}" rx="120" ry="66" fill="url(#rust)" opacity=".8"/>` +
      `<ellipse cx="${x + 12}" cy="${y + 3}" rx="66" ry="38" fill="url(#rust)"/>` +
      `<ellipse cx="${x + 9}" cy="${y}" rx="34" ry="17" fill="url(#hole)"/>` +
      `<ellipse cx="${x + 9}" cy="${y}" rx="35" ry="18" fill="none" stroke="#5e2f12" stroke-width="3"/>`,
  }
}

/** Metal gone under its own edge, next to the core. */
function undercut({ casting, chance }: Covered): Layer {
  const grooves = casting.holes.map(
    ([x, y]) =>
      `<ellipse cx="${x}" cy="${y}" rx="${chance.between(56, 74).toFixed(0)}" ry="${chance.between(36, 50).toFixed(0)}" fill="none" stroke="#08090a" stroke-width="15" opacity=".5" filter="url(#contact)"/>`,
  )
  return { body: grooves.join('') }
}

/** Paint that the hull round the anode has shed. */
function flakes({ box, chance }: Covered): Layer {
  const pieces = Array.from({ length: 16 }, () => {
    const angle = chance.between(0, 2 * Math.PI)
    const [x, y] = [
      Math.cos(angle) * (box.width / 2 + chance.between(10, 90)),
      Math.sin(angle) * (box.height / 2 + chance.between(10, 60)),
    ]
    const corners = Array.from({ length: 6 }, (_, i) => {
      const a = (Math.PI * i) / 3
      return `${(chance.between(5, 15) * Math.cos(a)).toFixed(1)} ${(chance.between(4, 11) * Math.sin(a)).toFixed(1)}`
    })
    return `<g transform="translate(${x.toFixed(0)} ${y.toFixed(0)})"><path d="M${corners.join('L')}Z" transform="translate(3 4)" opacity=".4"/><path d="M${corners.join('L')}Z" fill="${chance.pick(['#e8e4da', '#dcd6c8', '#7d2620'])}"/></g>`
  })
  return { around: pieces.join('') }
}

/** White dust and crumbs that fell off on the way to the bench. */
function crumbs({ box, finish, chance }: Covered): string {
  const count = Math.round(10 + 46 * finish.oxide)
  const dots = Array.from({ length: count }, () => {
    const angle = chance.between(0, 2 * Math.PI)
    const away = 1 + 0.3 * chance.uniform() ** 2
    const [x, y] = [(Math.cos(angle) * box.width * away) / 2, (Math.sin(angle) * box.height * away) / 2 + 8]
    const r = 0.8 + 3.4 * chance.uniform() ** 3
    return `<ellipse cx="${x.toFixed(0)}" cy="${y.toFixed(0)}" rx="${(r * 1.3).toFixed(1)}" ry="${r.toFixed(1)}" fill="${finish.oxideColour}" opacity="${chance.between(0.35, 0.9).toFixed(2)}"/>`
  })
  return dots.join('')
}
