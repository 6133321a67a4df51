import type pg from 'pg'

/** What a statement had to look at, and what it gave. */
export interface Touched {
  /** Rows that its scans read, those thrown away included. */
  readonly scanned: number
  /** Blocks of 8 KiB that it asked for, in memory or not. */
  readonly buffers: number
  readonly answered: number
}

interface PlanNode {
  readonly 'Node Type': string
  readonly 'Actual Rows': number
  readonly 'Actual Loops': number
  readonly 'Rows Removed by Filter'?: number
  readonly 'Rows Removed by Index Recheck'?: number
  readonly 'Shared Hit Blocks'?: number
  readonly 'Shared Read Blocks'?: number
  readonly Plans?: readonly PlanNode[]
}

/** Runs a statement under EXPLAIN ANALYZE, within the transaction that is open on the connection. */
export async function explain(client: pg.ClientBase, text: string, values: readonly unknown[]): Promise<Touched> {
  const { rows } = await client.query<{ 'QUERY PLAN': [{ Plan: PlanNode }] }>(
    `explain (analyze, buffers, timing off, format json) ${text}`,
    [...values],
  )
  const [{ Plan: plan }] = rows[0]!['QUERY PLAN']
  return {
    scanned: scannedBy(plan),
    buffers: (plan['Shared Hit Blocks'] ?? 0) + (plan['Shared Read Blocks'] ?? 0),
    answered: plan['Actual Rows'] * plan['Actual Loops'],
  }
}

function scannedBy(node: PlanNode): number {
  const below = (node.Plans ?? []).reduce((sum, each) => sum + scannedBy(each), 0)
  const removed = (node['Rows Removed by Filter'] ?? 0) + (node['Rows Removed by Index Recheck'] ?? 0)
  const given = node['Node Type'].endsWith('Scan') ? node['Actual Rows'] : 0
  return below + (given + removed) * node['Actual Loops']
}
