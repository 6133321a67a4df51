import type { FleetHistory } from './fleet-history.js'
import { type CoreShare, shapeClass, UNKNOWN_CORE } from './observation-model.js'

/** What is assumed of a core counts as so many weighed ones. Assumed. */
const PRIOR_ANODES = 2

/** The usual core of each shape, as a share of the gross mass when new, from the anodes whose core somebody weighed. */
export function learnCores(fleet: FleetHistory): Record<string, CoreShare> {
  const shares = new Map<string, number[]>()
  for (const { shape, coreMassG, fittedGrossMassG } of fleet.boats.flatMap(({ anodes }) => anodes)) {
    if (coreMassG === null || fittedGrossMassG === null) continue
    const known = shares.get(shapeClass(shape)) ?? []
    shares.set(shapeClass(shape), [...known, coreMassG / fittedGrossMassG])
  }
  return Object.fromEntries([...shares].map(([shape, known]) => [shape, usual(known)]))
}

function usual(known: readonly number[]): CoreShare {
  const count = PRIOR_ANODES + known.length
  const share = known.reduce((sum, each) => sum + each, PRIOR_ANODES * UNKNOWN_CORE.share) / count
  const squares = known.reduce((sum, each) => sum + (each - share) ** 2, PRIOR_ANODES * UNKNOWN_CORE.sd ** 2)
  return { share, sd: Math.sqrt(squares / count) }
}
