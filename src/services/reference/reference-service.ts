import { createHash } from 'node:crypto'
import type { ReferenceIndex, ReferenceTable } from '../../contract/reference.js'
import { NotFound } from '../errors.js'
import { REFERENCE_TABLES } from './tables.js'

/** An answer that stays the same until the program changes, and what to know it again by. */
export interface ConstantAnswer<Body> {
  readonly body: Body
  /** Strong entity tag of the body. */
  readonly etag: string
}

const INDEX = constant<ReferenceIndex>({
  items: REFERENCE_TABLES.map(({ name, title, description, rows }) => ({ name, title, description, rows })),
})
const TABLES = new Map(REFERENCE_TABLES.map((table) => [table.name, constant<ReferenceTable>(table)]))

/** All reference tables there are. */
export function referenceIndex(): ConstantAnswer<ReferenceIndex> {
  return INDEX
}

/**
 * One reference table with its sources.
 *
 * @throws NotFound for any other name
 */
export function referenceTableNamed(name: string): ConstantAnswer<ReferenceTable> {
  const table = TABLES.get(name)
  if (table === undefined) throw new NotFound(`reference table "${name}"`)
  return table
}

function constant<Body>(body: Body): ConstantAnswer<Body> {
  const digest = createHash('sha256').update(JSON.stringify(body)).digest('base64url')
  return { body, etag: `"${digest.slice(0, 22)}"` }
}
