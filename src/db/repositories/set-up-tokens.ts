import { and, eq, isNull } from 'drizzle-orm'
import type { Db } from '../client.js'
import { setUpTokens } from '../schema/index.js'

/** Puts a token in the place of any that was not used. */
export async function replaceSetUpToken(db: Db, tokenSha256: string): Promise<void> {
  await db.transaction(async (tx) => {
    await tx.delete(setUpTokens).where(isNull(setUpTokens.usedAt))
    await tx.insert(setUpTokens).values({ tokenSha256 })
  })
}

/** Uses the token up; false when it is unknown or used. Of two at once, one gets it. */
export async function useSetUpToken(db: Db, tokenSha256: string, at: Date): Promise<boolean> {
  const rows = await db
    .update(setUpTokens)
    .set({ usedAt: at.toISOString() })
    .where(and(eq(setUpTokens.tokenSha256, tokenSha256), isNull(setUpTokens.usedAt)))
    .returning({ tokenSha256: setUpTokens.tokenSha256 })
  return rows.length === 1
}
