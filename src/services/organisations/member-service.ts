import type { MemberChange, MemberQuery, MemberRequest, MemberView } from '../../contract/organisations.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  deleteMember,
  findMember,
  insertMember,
  type MemberRow,
  pageOfMembers,
  setMemberRole,
} from '../../db/repositories/members.js'
import { findOrganisation } from '../../db/repositories/organisations.js'
import { languageOfAddress } from '../../db/repositories/preferences.js'
import type { Language } from '../../messages/languages.js'
import type { Mail } from '../../outside/mail.js'
import { invitationLetter } from '../access/access-letters.js'
import type { Actor } from '../actor.js'
import { NotFound, Stale } from '../errors.js'
import { keepingAnAdministrator } from './administrators.js'

export interface MemberServiceOptions {
  readonly mail: Mail
  readonly publicUrl: string
  readonly now: () => Date
  readonly onMailFailure: (error: unknown) => void
}

/** How the name of an actor who is a person begins. */
const PERSON = 'person:'

/** People of the organisation and their roles. */
export class MemberService {
  private readonly db: Db
  private readonly options: MemberServiceOptions

  constructor(db: Db, options: MemberServiceOptions) {
    this.db = db
    this.options = options
  }

  page(actor: Actor, query: MemberQuery): Promise<Page<MemberView>> {
    return inOrganisation(this.db, actor, (tx) => pageOfMembers(tx, actor.organisationId, query, viewOf))
  }

  get(actor: Actor, id: string): Promise<MemberView> {
    return inOrganisation(this.db, actor, async (tx) => viewOf(await existing(tx, actor, id)))
  }

  /** Makes the address a member; whoever reads its mail may sign in from now on. */
  async invite(actor: Actor, { email, role }: MemberRequest): Promise<MemberView> {
    const { organisationId } = actor
    const row = await inOrganisation(this.db, actor, (tx) => insertMember(tx, { organisationId, email, role }))
    await this.tell(actor, email)
    return viewOf(row)
  }

  async change(actor: Actor, id: string, version: number, { role }: MemberChange): Promise<MemberView> {
    return this.changing(actor, async (tx) => {
      const row = await existing(tx, actor, id)
      if (row.version !== version) throw new Stale('the member')
      return viewOf(await setMemberRole(tx, row, role))
    })
  }

  /** The person's sessions find no organisation from the next request on. */
  async remove(actor: Actor, id: string, version: number): Promise<void> {
    await this.changing(actor, async (tx) => {
      const row = await existing(tx, actor, id)
      if (row.version !== version) throw new Stale('the member')
      await deleteMember(tx, row)
    })
  }

  private changing<T>(actor: Actor, change: (tx: Db) => Promise<T>): Promise<T> {
    return inOrganisation(this.db, actor, (tx) =>
      keepingAnAdministrator(tx, actor.organisationId, this.options.now(), () => change(tx)),
    )
  }

  private async tell(actor: Actor, email: string): Promise<void> {
    const { mail, publicUrl, onMailFailure } = this.options
    const organisation = await inOrganisation(this.db, actor, (tx) => findOrganisation(tx, actor.organisationId))
    const language = await inOrganisation(this.db, actor, (tx) => languageFor(tx, email, actor))
    // The invitation stands whether or not the letter arrives.
    void mail.send(invitationLetter({ to: email, language }, organisation?.name ?? '', publicUrl)).catch(onMailFailure)
  }
}

/** The reader's own where they chose one, else that of whoever invites: people of a yard mostly speak alike. */
async function languageFor(db: Db, email: string, { actor }: Actor): Promise<Language> {
  const inviter = actor.startsWith(PERSON) ? actor.slice(PERSON.length) : ''
  return (await languageOfAddress(db, email)) ?? (await languageOfAddress(db, inviter)) ?? 'en'
}

async function existing(db: Db, actor: Actor, id: string): Promise<MemberRow> {
  const row = await findMember(db, actor.organisationId, id)
  if (!row) throw new NotFound('the member')
  return row
}

function viewOf(row: MemberRow): MemberView {
  const { id, email, role, version } = row
  return { id, email, role, signedIn: row.userId !== null, createdAt: new Date(row.createdAt).toISOString(), version }
}
