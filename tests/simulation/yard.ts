import type { CsvRowOf } from '../../src/contract/csv/index.js'
import type { TrueAnode } from './anode-life.js'
import type { Draws } from './draws.js'
import type { Setting } from './setting.js'

/** How a yard judges masses: its scale, its habits, its eye. */
export interface Yard {
  readonly resolutionG: number
  readonly isResolutionWritten: boolean
  readonly repeatability: number
  readonly residueShare: number
  readonly eyeBias: number
  readonly eyeSd: number
  readonly caliperBias: number
  readonly caliperSd: number
}

/** What people know of an anode when it is new. */
export interface KnownAnode {
  readonly grossMassG: number | null
  readonly coreMassG: number | null
  readonly lengthMm: number | null
  readonly widthMm: number | null
  readonly heightMm: number | null
}

export function makeYard(draws: Draws, setting: Setting): Yard {
  return {
    resolutionG: draws.pick(setting.resolutionsG),
    isResolutionWritten: draws.chance(0.8),
    repeatability: draws.between(0.002, 0.006),
    residueShare: setting.residueShare * draws.lognormal(0.4),
    eyeBias: draws.normal(setting.eyeBiasSd),
    eyeSd: setting.eyeSd,
    caliperBias: draws.normal(setting.caliperBiasSd),
    caliperSd: setting.caliperSd,
  }
}

/** What is written down as an anode is fitted: a list's mass or the scale's, the core's where somebody knew it. */
export function describe(draws: Draws, setting: Setting, anode: TrueAnode): KnownAnode {
  const { place, netMassG, coreMassG } = anode
  const listedG = place.netMassG / (1 - place.coreShare)
  const weighedG = netMassG + coreMassG + draws.normal(2)
  const length = 120 * (place.netMassG / 1000) ** (1 / 3) * draws.lognormal(0.1)
  const isMeasured = draws.chance(0.85)
  const mm = (value: number) => (isMeasured ? Math.round(value) : null)
  return {
    // No scale of a yard shows less than a gram of something.
    grossMassG: draws.chance(0.03) ? null : Math.max(1, Math.round(draws.chance(0.5) ? listedG : weighedG)),
    coreMassG: draws.chance(setting.unknownCoreShare) ? null : Number((coreMassG * draws.lognormal(0.03)).toFixed(0)),
    lengthMm: mm(length),
    widthMm: mm(0.6 * length),
    heightMm: mm(0.3 * length),
  }
}

type WeighingRow = CsvRowOf<'weighings.csv'>
export type Judged = Omit<WeighingRow, 'boat' | 'anode' | 'weighed_on'>

export const NOTHING_JUDGED: Judged = {
  method: 'scale',
  mass_g: null,
  resolution_g: null,
  cleaned: null,
  submerged_mass_g: null,
  submerged_in: null,
  wasted_percent: null,
  length_mm: null,
  width_mm: null,
  height_mm: null,
  condition: [],
}

export type Method = WeighingRow['method']

/** One look at an anode, as it is written down; `null` where nobody looked. */
export function judgeAnode(
  draws: Draws,
  yard: Yard,
  anode: TrueAnode,
  known: KnownAnode,
  wanted: Method,
): Judged | null {
  if (draws.chance(0.06)) return null
  if (wanted === 'visual') return byEye(draws, yard, anode)
  if (wanted === 'dimensions' && known.lengthMm !== null) return byCalipers(draws, yard, anode, known)
  return onScale(draws, yard, anode, known)
}

function onScale(draws: Draws, yard: Yard, anode: TrueAnode, known: KnownAnode): Judged {
  const cleaning = draws.between(0, 1)
  const cleaned = cleaning < 0.6 ? true : cleaning < 0.85 ? false : null
  const isClean = cleaned ?? draws.chance(0.5)
  const residueG = isClean ? 0 : yard.residueShare * anode.massG * draws.lognormal(0.6)
  const grossG = (anode.massG + anode.coreMassG) * (1 + draws.normal(yard.repeatability)) + residueG
  const readG = Math.round(mistyped(draws, grossG) / yard.resolutionG) * yard.resolutionG
  return {
    ...NOTHING_JUDGED,
    // A scale never shows less than the bare core.
    mass_g: Math.max(readG, Math.ceil(known.coreMassG ?? 0), 1),
    resolution_g: yard.isResolutionWritten ? yard.resolutionG : null,
    cleaned,
  }
}

/** One entry in two hundred has a digit wrong. */
function mistyped(draws: Draws, grossG: number): number {
  if (!draws.chance(0.005)) return grossG
  const place = 10 ** Math.max(0, Math.floor(Math.log10(grossG)) - draws.whole(0, 2))
  return Math.max(1, grossG + place * draws.pick([-2, -1, 1, 2]))
}

function byEye(draws: Draws, yard: Yard, anode: TrueAnode): Judged {
  const consumed = 1 - anode.massG / anode.netMassG
  const seen = consumed + yard.eyeBias * Math.min(1, 4 * consumed) + draws.normal(yard.eyeSd)
  const percent = 5 * Math.round(20 * seen)
  return { ...NOTHING_JUDGED, method: 'visual', wasted_percent: Math.max(0, Math.min(100, percent)) }
}

/** An anode thins more than it shortens. */
const SHORTENING = { lengthMm: 0.15, widthMm: 0.25, heightMm: 0.6 } as const

function byCalipers(draws: Draws, yard: Yard, anode: TrueAnode, known: KnownAnode): Judged {
  const error = Math.exp(yard.caliperBias + draws.normal(yard.caliperSd))
  const share = Math.max(0.02, (anode.massG / anode.netMassG) * error)
  const left = (name: keyof typeof SHORTENING) =>
    known[name] === null ? null : Math.max(1, Number((known[name] * share ** SHORTENING[name]).toFixed(1)))
  return {
    ...NOTHING_JUDGED,
    method: 'dimensions',
    length_mm: left('lengthMm'),
    width_mm: left('widthMm'),
    height_mm: left('heightMm'),
  }
}
