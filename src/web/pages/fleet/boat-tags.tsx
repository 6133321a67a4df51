import { Link } from 'react-router'
import type { Finding } from '../../api/findings.js'
import { sayWhat } from '../findings/finding-sentences.js'
import { DirectionTag } from '../findings/wear-scale.js'
import type { FleetRow } from './fleet-rows.js'
import { WearTag } from './wear-tag.js'

/** What stands out on a boat: its findings, each a way to it; wear of the last interval that is no finding yet. */
export function BoatTags({ wear, findings }: Pick<FleetRow, 'wear'> & { findings: readonly Finding[] }) {
  const found = new Set<string>(findings.map(({ direction }) => direction))
  return (
    <p className="fleet-tags">
      {findings.map((finding) => (
        <Link key={finding.id} className="fleet-finding" to={`/findings/${finding.id}`} title={sayWhat(finding)}>
          <DirectionTag direction={finding.direction} />
          <span className="unseen">: {sayWhat(finding)}</span>
        </Link>
      ))}
      {wear.fast > 0 && !found.has('fast') && <WearTag direction="fast" of={wear.fast} />}
      {wear.slow > 0 && !found.has('slow') && <WearTag direction="slow" of={wear.slow} />}
    </p>
  )
}

/** Findings by each boat that shares in them. */
export function findingsByBoat(findings: readonly Finding[]): ReadonlyMap<string, readonly Finding[]> {
  const byBoat = new Map<string, Finding[]>()
  for (const finding of findings) {
    const boats = new Set([...(finding.boat === null ? [] : [finding.boat]), ...finding.anodes.map(({ boat }) => boat)])
    for (const boat of boats) byBoat.set(boat, [...(byBoat.get(boat) ?? []), finding])
  }
  return byBoat
}
