import { and, asc, eq } from 'drizzle-orm'
import type { SavedView } from '../../contract/desk-views.js'
import type { Db } from '../client.js'
import { savedViews } from '../schema/index.js'
import { type Change, changesNothing } from './versions.js'

/** Whose views, in which organisation. */
export interface ViewOwner {
  readonly organisationId: string
  /** As the audit trail names actors. */
  readonly actor: string
}

type ViewValues = Pick<SavedView, 'name' | 'query' | 'isDefault'>

const COLUMNS = {
  id: savedViews.id,
  name: savedViews.name,
  query: savedViews.query,
  isDefault: savedViews.isDefault,
  version: savedViews.version,
}

export function viewsOf(db: Db, owner: ViewOwner): Promise<SavedView[]> {
  return db.select(COLUMNS).from(savedViews).where(ofOwner(owner)).orderBy(asc(savedViews.name), asc(savedViews.id))
}

/** A view, held until the transaction ends. */
export async function lockView(tx: Db, owner: ViewOwner, id: string): Promise<SavedView | undefined> {
  const [row] = await tx.select(COLUMNS).from(savedViews).where(thisView(owner, id)).for('update')
  return row
}

export async function insertView(tx: Db, owner: ViewOwner, values: ViewValues): Promise<SavedView> {
  const [row] = await tx
    .insert(savedViews)
    .values({ ...values, organisationId: owner.organisationId, person: owner.actor })
    .returning(COLUMNS)
  return row!
}

export async function updateView(tx: Db, owner: ViewOwner, id: string, values: Change<ViewValues>): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(savedViews).set(values).where(thisView(owner, id))
}

/** For when another is to be the one that opens first. */
export async function clearDefault(tx: Db, owner: ViewOwner): Promise<void> {
  await tx
    .update(savedViews)
    .set({ isDefault: false })
    .where(and(ofOwner(owner), eq(savedViews.isDefault, true)))
}

export async function deleteView(tx: Db, owner: ViewOwner, id: string): Promise<void> {
  await tx.delete(savedViews).where(thisView(owner, id))
}

function ofOwner({ organisationId, actor }: ViewOwner) {
  return and(eq(savedViews.organisationId, organisationId), eq(savedViews.person, actor))
}

function thisView(owner: ViewOwner, id: string) {
  return and(ofOwner(owner), eq(savedViews.id, id))
}
