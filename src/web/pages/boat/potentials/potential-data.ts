import type { FittingView } from '../../../../contract/fittings.js'
import { isMetal } from '../../../../contract/metals.js'
import type { PotentialView } from '../../../../contract/potentials.js'
import type { Hull, Water } from '../../../../contract/vocabulary.js'
import { convertPotential } from '../../../../engine/electrochemistry/electrode.js'
import { type ProtectionWindow, protectionWindowOf } from '../../../../engine/galvanic/judged-potentials.js'

/** A reading against the one electrode of the chart, silver/silver chloride in seawater [V]. */
export interface ChartedReading {
  readonly id: string
  readonly at: Date
  readonly volts: number
  readonly shorePower: PotentialView['shorePower']
  /** As it was read. */
  readonly read: { readonly volts: number; readonly reference: NonNullable<PotentialView['reference']> }
}

/** The readings of one fitting, or of the bonded hull. */
export interface PotentialSeries {
  /** Null: the bonded hull. */
  readonly fitting: string | null
  readonly readings: readonly ChartedReading[]
  /** Readings against an electrode that nobody noted: they can't be charted. */
  readonly unknownReference: number
  /** Where it counts as protected; null where no criterion is known, or in fresh water. */
  readonly band: ProtectionWindow | null
  readonly domain: readonly [low: number, high: number]
}

interface Surroundings {
  readonly hull: Hull | null
  readonly water: Water | null
  readonly fittings: readonly FittingView[]
}

/** Room above and below what is drawn [V]. */
const ROOM_V = 0.05

/** One series for each thing that was read, the one with the most readings in front. */
export function potentialSeries(potentials: readonly PotentialView[], around: Surroundings): PotentialSeries[] {
  const subjects = [...new Set(potentials.map(({ fitting }) => fitting))]
  return subjects
    .map((fitting) =>
      seriesOf(
        fitting,
        potentials.filter((each) => each.fitting === fitting),
        around,
      ),
    )
    .toSorted((a, b) => b.readings.length - a.readings.length)
}

function seriesOf(fitting: string | null, read: readonly PotentialView[], around: Surroundings): PotentialSeries {
  const readings = read.flatMap(({ id, measuredAt, volts, reference, shorePower }) =>
    reference === null
      ? []
      : [
          {
            id,
            at: new Date(measuredAt),
            volts: convertPotential(volts, reference, 'ag-agcl-seawater'),
            shorePower,
            read: { volts, reference },
          },
        ],
  )
  const band = bandOf(fitting, around)
  const drawn = [
    ...readings.map(({ volts }) => volts),
    ...(band === null ? [] : [band.protectedAtOrBelowV, band.notBelowV ?? band.protectedAtOrBelowV]),
  ]
  return {
    fitting,
    readings,
    unknownReference: read.length - readings.length,
    band,
    domain: [Math.min(...drawn) - ROOM_V, Math.max(...drawn) + ROOM_V],
  }
}

function bandOf(fitting: string | null, { hull, water, fittings }: Surroundings): ProtectionWindow | null {
  if (water === 'fresh') return null
  const known = fittings.map(({ name, metal, areaCm2, coated, bonded }) => ({
    fitting: name,
    metal: metal !== null && isMetal(metal) ? metal : null,
    areaCm2,
    coated,
    bonded,
  }))
  return protectionWindowOf(fitting, { hull, fittings: known }) ?? null
}
