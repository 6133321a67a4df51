import { GALVANIC_AUDIT_FIGURES } from '../reference/galvanic-grades.js'
import type { BoatAnode, BoatFitting, ContinuityValue, GalvanicBoat } from './boat-metals.js'

/** The boat's bonding, as continuity readings name it. */
export const BOND = 'bond'

/** Parts of a boat that metal joins. */
export interface ConnectedSystem {
  /** Whether it hangs on the boat's bonding. */
  readonly isBonded: boolean
  readonly fittings: readonly BoatFitting[]
  readonly anodes: readonly BoatAnode[]
}

/** What is known of who is joined to whom. */
export interface Connections {
  readonly systems: readonly ConnectedSystem[]
  /** Fittings of which nobody recorded whether they are bonded, and no reading tells. */
  readonly unknown: readonly BoatFitting[]
  /** Fittings that nothing joins to another part. */
  readonly alone: readonly BoatFitting[]
  /** Bonded on record, though the last reading to the bond is above the limit, with that reading. */
  readonly openBonds: readonly ContinuityValue[]
  /** Not bonded on record, though a reading joins them to something. */
  readonly joinedThoughUnbonded: readonly string[]
}

/**
 * Which parts of a boat are joined by metal: bonded on record, or with at most `connectedUpTo` between them by the latest
 * continuity reading of the two. A reading above the limit does not undo the record: it is told as an open bond.
 *
 * @see reference `abyc-e-2`
 */
export function connectionsOf({ fittings, anodes, continuity }: GalvanicBoat): Connections {
  const latest = latestReadings(continuity)
  const joined = latest.filter(({ ohms }) => ohms <= GALVANIC_AUDIT_FIGURES.connectedUpTo.value)
  const links: (readonly [string, string])[] = joined.map(({ from, to }) => [from, to])
  for (const { fitting, bonded } of fittings) if (bonded === true) links.push([fitting, BOND])
  for (const { anode, bonded } of anodes) if (bonded !== false) links.push([anode, BOND])
  const rootOf = rootsOf(links)
  const grouped = systemsOf(fittings, anodes, rootOf)
  const measured = new Set(joined.flatMap(({ from, to }) => [from, to]))
  const inSystems = new Set(grouped.flatMap((system) => system.fittings))
  const loose = fittings.filter((fitting) => !inSystems.has(fitting))
  const bondedOnRecord = new Set(fittings.filter(({ bonded }) => bonded === true).map(({ fitting }) => fitting))
  return {
    systems: grouped,
    unknown: loose.filter(({ bonded }) => bonded === null),
    alone: loose.filter(({ bonded }) => bonded !== null),
    openBonds: latest.filter((reading) => isOpenBond(reading, bondedOnRecord)),
    joinedThoughUnbonded: fittings
      .filter(({ fitting, bonded }) => bonded === false && measured.has(fitting))
      .map(({ fitting }) => fitting),
  }
}

function isOpenBond({ from, to, ohms }: ContinuityValue, bondedOnRecord: ReadonlySet<string>): boolean {
  if (ohms <= GALVANIC_AUDIT_FIGURES.connectedUpTo.value) return false
  return (from === BOND && bondedOnRecord.has(to)) || (to === BOND && bondedOnRecord.has(from))
}

/** The latest reading between each two parts, whichever way round it was taken. */
function latestReadings(continuity: readonly ContinuityValue[]): readonly ContinuityValue[] {
  const latest = new Map<string, ContinuityValue>()
  for (const reading of continuity) {
    const pair = JSON.stringify([reading.from, reading.to].sort())
    const known = latest.get(pair)
    if (known === undefined || known.at <= reading.at) latest.set(pair, reading)
  }
  return [...latest.values()]
}

/** For each name its system's first name, by joining the links one after the other. */
function rootsOf(links: readonly (readonly [string, string])[]): (name: string) => string {
  const parents = new Map<string, string>()
  const rootOf = (name: string): string => {
    const parent = parents.get(name)
    return parent === undefined ? name : rootOf(parent)
  }
  for (const [one, other] of links) {
    const [from, to] = [rootOf(one), rootOf(other)]
    if (from !== to) parents.set(from, to)
  }
  return rootOf
}

function systemsOf(
  fittings: readonly BoatFitting[],
  anodes: readonly BoatAnode[],
  rootOf: (name: string) => string,
): readonly ConnectedSystem[] {
  const roots = new Set(fittings.map(({ fitting }) => rootOf(fitting)))
  const systems = [...roots].map((root) => ({
    isBonded: root === rootOf(BOND),
    fittings: fittings.filter(({ fitting }) => rootOf(fitting) === root),
    anodes: anodes.filter(({ anode }) => rootOf(anode) === root),
  }))
  return systems.filter((system) => system.isBonded || system.fittings.length + system.anodes.length > 1)
}
