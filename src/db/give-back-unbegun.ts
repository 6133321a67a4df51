import type pg from 'pg'

const BEGIN = /^begin\b/i

/**
 * Gives a connection back to its pool where a transaction could not begin on it. Drizzle takes a connection, begins, and only from then on
 * sees to giving it back: without this each connection that dies at that moment is missing from the pool for ever, and when all are, every
 * request waits for ever.
 */
export function giveBackUnbegun(pool: pg.Pool): void {
  pool.on('connect', (client) => {
    const query = client.query.bind(client) as (...given: unknown[]) => unknown
    client.query = ((...given: unknown[]) => {
      const asked = query(...given)
      if (isBegin(given[0]) && asked instanceof Promise) asked.catch((error: Error) => client.release(error))
      return asked
    }) as never
  })
}

function isBegin(asked: unknown): boolean {
  const text = typeof asked === 'object' && asked !== null && 'text' in asked ? asked.text : asked
  return typeof text === 'string' && BEGIN.test(text)
}
