import type { SessionsToEnd, SessionView } from '../../contract/access.js'
import type { Db } from '../../db/client.js'
import { deleteSubscriptionsSignedOut } from '../../db/repositories/push-subscriptions.js'
import { deleteSession, deleteSessionsOf, type SessionRow, sessionsOf } from '../../db/repositories/sessions.js'
import { NotFound } from '../errors.js'
import { deviceOf } from './device-of.js'
import type { SignedInPerson } from './sign-in.js'

/**
 * Where a person is signed in. Read from the library's table: the library itself lists sessions only to those who signed
 * in within the last day, and whoever lost a phone would have to wait for a letter first.
 */
export class SessionService {
  private readonly across: Db
  private readonly now: () => Date

  constructor(across: Db, now: () => Date) {
    this.across = across
    this.now = now
  }

  /** A program has none. */
  async list(person: SignedInPerson | undefined): Promise<{ items: SessionView[] }> {
    if (person === undefined) return { items: [] }
    const rows = await sessionsOf(this.across, person.userId, this.now())
    return { items: rows.map((row) => viewOf(row, person)) }
  }

  /**
   * The device is refused from its next request on. Nor is it notified any more: a lost phone shows that while it is locked. That ends, too,
   * where nobody knows of which session it is.
   *
   * @throws NotFound when it is no session of this person's
   */
  async end(person: SignedInPerson | undefined, id: string): Promise<void> {
    if (person === undefined || !(await deleteSession(this.across, person.userId, id)))
      throw new NotFound('the session')
    await deleteSubscriptionsSignedOut(this.across, person.userId)
  }

  async endMany(person: SignedInPerson | undefined, { which }: SessionsToEnd): Promise<void> {
    if (person === undefined) throw new NotFound('the session')
    await deleteSessionsOf(this.across, person.userId, which === 'others' ? person.sessionId : undefined)
    await deleteSubscriptionsSignedOut(this.across, person.userId)
  }
}

function viewOf({ id, userAgent, createdAt, updatedAt, expiresAt }: SessionRow, person: SignedInPerson): SessionView {
  return {
    id,
    ...deviceOf(userAgent),
    signedInAt: createdAt.toISOString(),
    lastUsedAt: updatedAt.toISOString(),
    expiresAt: expiresAt.toISOString(),
    current: id === person.sessionId,
  }
}
