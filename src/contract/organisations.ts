import { z } from 'zod'
import { Email, KEY_SCOPES, MembershipView } from './access.js'
import { pageOf, pageQuery } from './paging.js'
import { ROLES } from './vocabulary.js'

const OrganisationName = z
  .string()
  .trim()
  .min(1)
  .max(200)
  .meta({ examples: ['North Quay Yard'] })

const Threshold = z
  .number()
  .gt(0)
  .lt(1)
  .meta({
    description: 'Consumed fraction at which an anode is due, unless its boat or position says otherwise',
    examples: [0.5],
  })

const FalseDiscoveryRate = z
  .number()
  .min(0.0001)
  .max(0.5)
  .meta({
    description: 'Share of false ones that is accepted among the findings (Benjamini and Hochberg)',
    examples: [0.05],
  })

export const OrganisationView = z
  .object({
    id: z.uuid(),
    name: z.string(),
    wastingThreshold: Threshold,
    falseDiscoveryRate: FalseDiscoveryRate,
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({ id: 'Organisation' })
export type OrganisationView = z.infer<typeof OrganisationView>

export const OrganisationChange = z
  .strictObject({
    name: OrganisationName.optional(),
    wastingThreshold: Threshold.optional(),
    falseDiscoveryRate: FalseDiscoveryRate.optional(),
  })
  .meta({ id: 'OrganisationChange' })
export type OrganisationChange = z.infer<typeof OrganisationChange>

export const MemberView = z
  .object({
    id: z.uuid(),
    email: z.string(),
    role: z.enum(ROLES),
    signedIn: z.boolean().meta({ description: 'Whether the invited person has been here' }),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({ id: 'Member' })
export type MemberView = z.infer<typeof MemberView>

export const MemberRequest = z.strictObject({ email: Email, role: z.enum(ROLES) }).meta({ id: 'MemberRequest' })
export type MemberRequest = z.infer<typeof MemberRequest>

export const MemberChange = z.strictObject({ role: z.enum(ROLES) }).meta({ id: 'MemberChange' })
export type MemberChange = z.infer<typeof MemberChange>

export const MemberQuery = pageQuery(['email', 'createdAt'])
export type MemberQuery = z.infer<typeof MemberQuery>
export const MemberPage = pageOf(MemberView)

export const AuditEntryView = z
  .object({
    id: z.string().meta({ description: 'Rises with time', examples: ['1204'] }),
    at: z.iso.datetime(),
    actor: z.string().meta({ examples: ['person:ada@example.org', 'key:Lift phone'] }),
    action: z.enum(['insert', 'update', 'delete']),
    table: z.string().meta({ examples: ['weighings'] }),
    row: z.uuid(),
    reason: z.string().nullable(),
    before: z.record(z.string(), z.unknown()).nullable(),
    after: z.record(z.string(), z.unknown()).nullable(),
  })
  .meta({ id: 'AuditEntry', description: 'Who changed what, when, from what to what, and why' })
export type AuditEntryView = z.infer<typeof AuditEntryView>

/** Newest first; no other order, for the trail is read backwards. */
export const AuditQuery = pageQuery(['at'])
  .omit({ sort: true })
  .extend({
    row: z.uuid().optional().meta({ description: 'Only changes of this row' }),
    table: z.string().min(1).max(63).optional().meta({ description: 'Only changes in this table' }),
  })
export type AuditQuery = z.infer<typeof AuditQuery>
export const AuditPage = pageOf(AuditEntryView)

export const SetUpRequest = z
  .strictObject({ token: z.string().min(1).max(200), organisationName: OrganisationName, email: Email })
  .meta({ id: 'SetUpRequest' })
export type SetUpRequest = z.infer<typeof SetUpRequest>

export const SetUpDone = z
  .object({ organisationId: z.uuid(), email: z.string() })
  .meta({ id: 'SetUpDone', description: 'A link to sign in is on its way to the address' })

/** Who asks, as the service sees them. */
export const Me = z
  .object({
    kind: z.enum(['person', 'key']),
    actor: z.string().meta({ examples: ['person:ada@example.org', 'key:Lift phone'] }),
    email: z.string().nullable().meta({ description: 'Of a person' }),
    role: z.enum(ROLES),
    scope: z.enum(KEY_SCOPES).nullable().meta({ description: 'Of a key: what of its role it may do' }),
    permissions: z.array(z.string()).meta({ examples: [['fleet:read', 'lift:write']] }),
    organisation: z.object({ id: z.uuid(), name: z.string() }),
    memberships: z.array(MembershipView),
    demo: z.boolean().meta({ description: 'Whether this is the demo, where one may look as somebody else' }),
    publicUrl: z.string().meta({ description: 'Where this service is reached: what its links and labels begin with' }),
  })
  .meta({ id: 'Me' })

export const OrganisationChoice = z.strictObject({ organisationId: z.uuid() }).meta({ id: 'OrganisationChoice' })

export const DEMO_ROLES = ['staff', 'owner', 'manager'] as const
export const LookAs = z.strictObject({ role: z.enum(DEMO_ROLES) }).meta({ id: 'LookAs' })
export type DemoRole = (typeof DEMO_ROLES)[number]

/** What a sign-in page must know before anybody is signed in. */
export const DemoView = z
  .object({ demo: z.boolean().meta({ description: 'Whether one may look as somebody of a role' }) })
  .meta({ id: 'DemoView' })
