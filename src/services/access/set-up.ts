import { randomUUID } from 'node:crypto'
import type { SetUpRequest } from '../../contract/organisations.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { findApiKeyByHash, insertApiKey } from '../../db/repositories/api-keys.js'
import { insertMember } from '../../db/repositories/members.js'
import { anyOrganisation, insertOrganisation } from '../../db/repositories/organisations.js'
import { replaceSetUpToken, useSetUpToken } from '../../db/repositories/set-up-tokens.js'
import { Conflict, NotFound } from '../errors.js'
import { keyValues } from './api-keys.js'
import { makeSecret, sha256 } from './secrets.js'
import type { SignIn } from './sign-in.js'

/** What a start found and did about the first organisation. */
export type FirstStart =
  | { readonly done: 'nothing' }
  | { readonly done: 'organisation made'; readonly name: string }
  | { readonly done: 'link made'; readonly link: string }
  /** There is an organisation already, and the key of the environment opens nothing in it. */
  | { readonly done: 'key unknown' }

export interface SetUpOptions {
  readonly publicUrl: string
  readonly signIn: SignIn
  readonly now: () => Date
}

/** How the first organisation comes to be: by a key in the environment, or by a link that works once. Across organisations: there is to be none yet. */
export class SetUpService {
  private readonly across: Db
  private readonly options: SetUpOptions

  constructor(across: Db, options: SetUpOptions) {
    this.across = across
    this.options = options
  }

  /** To be called once at each start, after the migrations and under the start's lock. */
  async atStart(adminApiKey: string | undefined, organisationName: string): Promise<FirstStart> {
    const existing = await anyOrganisation(this.across)
    if (existing) {
      const isUnknown = adminApiKey !== undefined && !(await findApiKeyByHash(this.across, sha256(adminApiKey)))
      return { done: isUnknown ? 'key unknown' : 'nothing' }
    }
    if (adminApiKey === undefined) return { done: 'link made', link: await this.makeLink() }
    await this.makeOrganisation(organisationName, async (tx, organisationId) => {
      const key = keyValues({ name: 'ADMIN_API_KEY', role: 'administrator' }, adminApiKey)
      await insertApiKey(tx, { organisationId, ...key })
    })
    return { done: 'organisation made', name: organisationName }
  }

  /**
   * Makes the organisation and its first administrator, and sends them a link to sign in.
   *
   * @throws NotFound for a token that is unknown, or replaced by a later start
   * @throws Conflict when there is an organisation already, so also for a token that was used
   */
  async redeem({ token, organisationName, email }: SetUpRequest): Promise<{ organisationId: string; email: string }> {
    const organisationId = await this.makeOrganisation(organisationName, async (tx, made) => {
      if (!(await useSetUpToken(tx, sha256(token), this.options.now()))) throw new NotFound('this set-up link')
      await insertMember(tx, { organisationId: made, email, role: 'administrator' })
    })
    await this.options.signIn.sendLink(email)
    return { organisationId, email }
  }

  private async makeLink(): Promise<string> {
    const token = makeSecret()
    await replaceSetUpToken(this.across, sha256(token))
    const link = new URL('/set-up', this.options.publicUrl)
    link.searchParams.set('token', token)
    return link.href
  }

  private async makeOrganisation(name: string, fill: (tx: Db, organisationId: string) => Promise<void>) {
    const organisationId = randomUUID()
    await inOrganisation(this.across, { organisationId, actor: 'set-up' }, async (tx) => {
      if (await anyOrganisation(tx)) throw new Conflict('an organisation has been set up already')
      await insertOrganisation(tx, { id: organisationId, name })
      await fill(tx, organisationId)
    })
    return organisationId
  }
}
