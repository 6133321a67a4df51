import { sql } from 'drizzle-orm'
import type { Db } from '../client.js'

export interface Column {
  readonly name: string
  /** As SQL writes it: `timestamp with time zone`, `text[]`. */
  readonly type: string
}

export interface TableShape {
  readonly name: string
  readonly columns: readonly Column[]
}

/** The tables of the service, each after those that its rows refer to: rows that are written in this order find what they name. */
export async function tablesInOrder(db: Db): Promise<TableShape[]> {
  const shapes = await rowsOf<TableShape>(
    db,
    sql`select c.relname as name,
        json_agg(json_build_object('name', a.attname, 'type', format_type(a.atttypid, a.atttypmod)) order by a.attnum) as columns
      from pg_class c join pg_attribute a on a.attrelid = c.oid
      where c.relnamespace = 'public'::regnamespace and c.relkind = 'r' and a.attnum > 0
        and not a.attisdropped and a.attgenerated = ''
      group by c.relname order by c.relname`,
  )
  const references = await rowsOf<Reference>(
    db,
    sql`select distinct here.relname as "from", there.relname as "to"
      from pg_constraint k join pg_class here on here.oid = k.conrelid join pg_class there on there.oid = k.confrelid
      where k.contype = 'f' and k.connamespace = 'public'::regnamespace`,
  )
  return referredFirst(shapes, references)
}

interface Reference {
  readonly from: string
  readonly to: string
}

/** @throws Error where tables refer to each other in a ring: no order would do then */
export function referredFirst(shapes: readonly TableShape[], references: readonly Reference[]): TableShape[] {
  const ordered: TableShape[] = []
  const placed = new Set<string>()
  const waiting = new Set(shapes)
  while (waiting.size > 0) {
    const ready = [...waiting].filter(({ name }) => references.every(({ from, to }) => from !== name || placed.has(to)))
    if (ready.length === 0) {
      throw new Error(`these tables refer to each other in a ring: ${[...waiting].map(({ name }) => name).join(', ')}`)
    }
    for (const shape of ready) {
      ordered.push(shape)
      placed.add(shape.name)
      waiting.delete(shape)
    }
  }
  return ordered
}

/** A name as SQL takes it, whatever is in it. */
export function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`
}

/** What a statement gives: the same on both drivers, which the builder's type does not say. */
export async function rowsOf<Row>(db: Db, statement: Parameters<Db['execute']>[0]): Promise<Row[]> {
  const { rows } = (await db.execute(statement)) as unknown as { rows: Row[] }
  return rows
}
