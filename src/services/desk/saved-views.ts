import type { NewSavedView, SavedView, SavedViewChange } from '../../contract/desk-views.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  clearDefault,
  deleteView,
  insertView,
  lockView,
  updateView,
  viewsOf,
} from '../../db/repositories/saved-views.js'
import type { Actor } from '../actor.js'
import { Conflict } from '../errors.js'
import { expectVersion } from '../fleet/expect-version.js'
import { found } from '../fleet/visible.js'

/** More than anybody finds again in a list. Convention. */
const MOST_VIEWS = 100

/** A person's own ways to look at the fleet; nobody else sees them. */
export class SavedViewService {
  readonly #db: Db

  constructor(db: Db) {
    this.#db = db
  }

  all(actor: Actor): Promise<SavedView[]> {
    return inOrganisation(this.#db, actor, (tx) => viewsOf(tx, actor))
  }

  /** @throws Conflict where there are too many; the database refuses a name that is taken */
  create(actor: Actor, view: NewSavedView): Promise<SavedView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const kept = await viewsOf(tx, actor)
      if (kept.length >= MOST_VIEWS) throw new Conflict(`you have ${MOST_VIEWS} views already: delete one first`)
      if (view.isDefault) await clearDefault(tx, actor)
      return insertView(tx, actor, view)
    })
  }

  /** @throws NotFound, Stale */
  change(actor: Actor, id: string, expectedVersion: number, change: SavedViewChange): Promise<SavedView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      expectVersion('the view', (await lockView(tx, actor, id))?.version, expectedVersion)
      if (change.isDefault) await clearDefault(tx, actor)
      await updateView(tx, actor, id, change)
      return found(await lockView(tx, actor, id), 'the view')
    })
  }

  /** @throws NotFound, Stale */
  delete(actor: Actor, id: string, expectedVersion: number): Promise<void> {
    return inOrganisation(this.#db, actor, async (tx) => {
      expectVersion('the view', (await lockView(tx, actor, id))?.version, expectedVersion)
      await deleteView(tx, actor, id)
    })
  }
}
