/** Connections to a server at most, by what they are for. */
export interface MostConnections {
  /** Of requests and jobs, for one organisation at a time. */
  readonly service: number
  /** Of sign-in and what is due, across organisations. */
  readonly across: number
  /** Of migrations and the queue, as whoever the address names. */
  readonly own: number
}

/**
 * Unless told otherwise. A request holds one of the service's for its transaction, some 5 ms: ten of them are 2,000 transactions a second
 * (Little's law), more than one process answers. Who asks is one query of 1 ms in a row, so four are enough; the queue polls one after the
 * other, beside a start that holds one for its lock. Together 18: five processes fit PostgreSQL's own 100 (docs/scale.md).
 */
export const USUAL_CONNECTIONS: MostConnections = { service: 10, across: 4, own: 4 }
