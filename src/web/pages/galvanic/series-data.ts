import { convertPotential } from '../../../engine/electrochemistry/electrode.js'
import { activeRowOf } from '../../../engine/galvanic/couple.js'
import { designAlloy } from '../../../engine/reference/anode-alloys.js'
import { GALVANIC_SERIES, type GalvanicMetal } from '../../../engine/reference/galvanic-series.js'
import type { AnodeAlloy } from '../../../engine/reference/vocabulary.js'
import { metalName } from './galvanic-words.js'

/** Electrodes that the chart can be read against. */
export type ChartScale = 'sce' | 'ag-agcl-seawater'

/** A metal that is marked on the chart. */
export interface MarkedMetal {
  readonly metal: GalvanicMetal
  /** What stands beside its bar: fittings, area. */
  readonly label: string
  /** Protected at this potential, against silver/silver chloride [V]; `null` where nothing has to be protected. */
  readonly protectedAtV: number | null
}

export interface SeriesBar {
  readonly metal: GalvanicMetal
  readonly name: string
  readonly isActive: boolean
  /** The range on the chosen scale [V]. */
  readonly low: number
  readonly high: number
  readonly mark: string | null
  /** From the anode to where the metal counts as protected, on the chosen scale [V]. */
  readonly margin: { readonly anode: number; readonly protectedAt: number } | null
}

export interface SeriesData {
  readonly bars: readonly SeriesBar[]
  readonly anodes: readonly { readonly alloy: AnodeAlloy; readonly volts: number }[]
  /** Ends of the axis [V]. */
  readonly domain: readonly [number, number]
}

interface Wanted {
  readonly marked: readonly MarkedMetal[]
  readonly anodes: readonly AnodeAlloy[]
  readonly scale: ChartScale
  /** The whole series, or the marked metals alone with what becomes of them without their film. */
  readonly isWhole: boolean
}

/** Room on both sides of what is drawn [V]. */
const EDGE_V = 0.08

/** What the chart of the series is drawn from, the noblest metal on top. */
export function seriesData({ marked, anodes, scale, isWhole }: Wanted): SeriesData {
  const marks = new Map(marked.map((each) => [each.metal, each]))
  const shown = new Set(marked.flatMap(({ metal }) => [metal, activeRowOf(metal) ?? metal]))
  const rows = GALVANIC_SERIES.filter(({ key }) => isWhole || shown.has(key))
  const drawnAnodes = anodes.map((alloy) => ({
    alloy,
    volts: convertPotential(designAlloy(alloy).closedCircuitVAgAgcl, 'ag-agcl-seawater', scale),
  }))
  // Of several alloys the one that gives least decides what is in hand.
  const least = drawnAnodes.length === 0 ? null : Math.max(...drawnAnodes.map(({ volts }) => volts))
  const bars = rows.map((row): SeriesBar => {
    const mark = marks.get(row.key)
    const protectedAtV = mark?.protectedAtV ?? null
    return {
      metal: row.key,
      name: metalName(row.key),
      isActive: row.state === 'active',
      low: convertPotential(row.lowVSce, 'sce', scale),
      high: convertPotential(row.highVSce, 'sce', scale),
      mark: mark?.label ?? null,
      margin:
        protectedAtV === null || least === null
          ? null
          : { anode: least, protectedAt: convertPotential(protectedAtV, 'ag-agcl-seawater', scale) },
    }
  })
  const ends = [...bars.flatMap(({ low, high }) => [low, high]), ...drawnAnodes.map(({ volts }) => volts)]
  return { bars, anodes: drawnAnodes, domain: [Math.min(...ends) - EDGE_V, Math.max(...ends) + EDGE_V] }
}
