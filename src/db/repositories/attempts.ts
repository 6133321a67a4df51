import { lt, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { attempts } from '../schema/index.js'

export type AttemptRow = typeof attempts.$inferSelect

/**
 * Counts one more, in one statement whoever else counts: where the time of the last ones is over, it begins again at one. So it does where
 * that time ends much later than one that begins now: the clock has been put back. Clocks of two processes differ by less than a minute.
 */
export async function countAttempt(db: Db, key: string, at: Date, until: Date): Promise<AttemptRow> {
  const isOver = sql`(${attempts.until} <= ${at.toISOString()}::timestamptz or ${attempts.until} > excluded.until + interval '1 minute')`
  const [row] = await db
    .insert(attempts)
    .values({ key, count: 1, until: until.toISOString() })
    .onConflictDoUpdate({
      target: attempts.key,
      set: {
        count: sql`case when ${isOver} then 1 else ${attempts.count} + 1 end`,
        until: sql`case when ${isOver} then excluded.until else ${attempts.until} end`,
      },
    })
    .returning()
  if (!row) throw new Error('the attempt was not counted')
  return row
}

export async function forgetAttemptsBefore(db: Db, at: Date): Promise<void> {
  await db.delete(attempts).where(lt(attempts.until, at.toISOString()))
}
