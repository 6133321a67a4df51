import type { Db } from '../db/client.js'
import type { Mail } from '../outside/mail.js'
import { ApiKeyService } from './access/api-keys.js'
import { IdempotencyService } from './access/idempotency.js'
import { MembershipService } from './access/memberships.js'
import { Readiness } from './access/readiness.js'
import { createSignIn } from './access/sign-in.js'

/** What the services need from outside, chosen at the start. */
export interface ServiceSurroundings {
  readonly db: Db
  readonly publicUrl: string
  readonly sessionSecret: string
  readonly mail: Mail
  readonly now: () => Date
  /** Told of failures that no request waits for. */
  readonly onFailure: (error: unknown) => void
}

export type Services = ReturnType<typeof buildServices>

/** Every service, built by hand: the one place that knows who uses what. */
export function buildServices(surroundings: ServiceSurroundings) {
  const { db, now, publicUrl, mail } = surroundings
  const memberships = new MembershipService(db)
  const signIn = createSignIn(db, {
    secret: surroundings.sessionSecret,
    publicUrl,
    mail,
    memberships,
    onMailFailure: surroundings.onFailure,
  })
  return {
    readiness: new Readiness(db),
    apiKeys: new ApiKeyService(db, now),
    idempotency: new IdempotencyService(db, now),
    memberships,
    signIn,
  }
}
