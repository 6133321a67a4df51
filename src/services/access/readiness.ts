import { sql } from 'drizzle-orm'
import type { Db } from '../../db/client.js'

/** Whether the database answers. Migrations are done before the service listens at all. */
export class Readiness {
  private readonly db: Db

  constructor(db: Db) {
    this.db = db
  }

  async isReady(): Promise<boolean> {
    try {
      await this.db.execute(sql`select 1`)
      return true
    } catch {
      return false
    }
  }
}
