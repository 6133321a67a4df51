import type { Page } from '../../contract/paging.js'
import type { AddedPhotos, PhotoQuery, PhotoSize, PhotoView } from '../../contract/photos.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { findHaulOut, lockHaulOut } from '../../db/repositories/haul-outs.js'
import {
  deletePhoto,
  findPhoto,
  insertPhotos,
  lockPicture,
  type PhotoRecord,
  type PhotoSubject,
  pageOfPhotos,
  photosOfSubject,
} from '../../db/repositories/photos.js'
import { findWeighing, lockWeighing } from '../../db/repositories/weighings.js'
import type { PhotoStore } from '../../outside/photo-store.js'
import type { Actor } from '../actor.js'
import { NotFound, Stale } from '../errors.js'
import { found, visibleBoat } from '../fleet/visible.js'
import { type Picture, preparePicture, STORED_MEDIA_TYPE } from './picture.js'
import { pictureKey } from './picture-keys.js'
import { sweepPictures } from './sweep.js'
import { Turns } from './turns.js'
import { type PhotoUpload, partNameOf, readUpload, refuseNothing } from './uploads.js'

/** Photos decoded at a time; each may take 200 MB, and a small server has two cores. */
const DECODED_AT_A_TIME = 2

/** The bytes of a photo, and what names exactly these bytes. */
export interface StoredPicture {
  readonly bytes: Uint8Array
  readonly mediaType: string
  readonly tag: string
}

/** Pictures of weighings and haul-outs: rows in the database, bytes in the photo store. */
export class PhotoService {
  readonly #db: Db
  readonly #store: PhotoStore
  readonly #now: () => Date
  readonly #turns = new Turns(DECODED_AT_A_TIME)

  constructor(db: Db, store: PhotoStore, now: () => Date) {
    this.#db = db
    this.#store = store
    this.#now = now
  }

  /** @throws NotFound for a boat that the asker cannot see */
  pageOfBoat(actor: Actor, boat: string, query: PhotoQuery): Promise<Page<PhotoView>> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      const { items, nextCursor } = await pageOfPhotos(tx, actor, id, query)
      return { items: items.map(photoView), nextCursor }
    })
  }

  /**
   * Adds photos: all of them, or none. The bytes are stored before any row names them, so that a failure between leaves
   * at most a file that the next sweep takes away. A photo that its subject has already is not added twice.
   *
   * @returns the photos in the order sent, and whether any is new
   * @throws NotFound, Invalid, TooLarge, UnsupportedKind
   */
  async add(
    actor: Actor,
    subject: PhotoSubject,
    uploads: AsyncIterable<PhotoUpload>,
  ): Promise<AddedPhotos & { added: boolean }> {
    await inOrganisation(this.#db, actor, (tx) => boatOf(tx, actor, subject))
    const pictures: Picture[] = []
    for await (const upload of uploads) {
      const file = await readUpload(upload)
      const picture = await this.#turns.take(() => preparePicture(file, partNameOf(upload)))
      await this.#put(actor.organisationId, picture)
      pictures.push(picture)
    }
    if (pictures.length === 0) refuseNothing()
    return inOrganisation(this.#db, actor, (tx) => this.#insert(tx, actor, subject, pictures))
  }

  /** @throws NotFound */
  read(actor: Actor, id: string): Promise<PhotoView> {
    return inOrganisation(this.#db, actor, async (tx) => photoView(found(await findPhoto(tx, actor, id), 'the photo')))
  }

  /** @throws NotFound, also where the database was restored without its photos */
  async picture(actor: Actor, id: string, size: PhotoSize): Promise<StoredPicture> {
    const photo = await inOrganisation(this.#db, actor, (tx) => findPhoto(tx, actor, id))
    const { sha256, mediaType } = found(photo, 'the photo')
    const bytes = await this.#store.get(pictureKey(actor.organisationId, sha256, size))
    return { bytes: found(bytes, 'the file of the photo'), mediaType, tag: tagOf(sha256, size) }
  }

  /**
   * Removes a photo from its subject; the next sweep takes its bytes away.
   *
   * @param tag of the picture as it was served, or the version of its row
   * @throws NotFound, Stale
   */
  async remove(actor: Actor, id: string, tag: string): Promise<void> {
    await inOrganisation(this.#db, actor, async (tx) => {
      const { sha256, version } = found(await findPhoto(tx, actor, id), 'the photo')
      if (tag !== String(version) && tag !== tagOf(sha256, 'full')) throw new Stale('the photo')
      await deletePhoto(tx, actor.organisationId, id)
    })
  }

  /**
   * Deletes the stored pictures, of every organisation, that no photo has shown for a day.
   *
   * @returns how many files were deleted
   */
  sweep(): Promise<number> {
    return sweepPictures(this.#db, this.#store, this.#now())
  }

  async #insert(tx: Db, actor: Actor, subject: PhotoSubject, pictures: readonly Picture[]) {
    const { organisationId } = actor
    // Two uploads for one subject wait for each other here: the second sees the first one's rows.
    const boatId = await lockSubject(tx, actor, subject)
    const distinct = new Map(pictures.map((picture) => [picture.sha256, picture]))
    const hashes = [...distinct.keys()].sort()
    for (const sha256 of hashes) await lockPicture(tx, organisationId, sha256)
    const known = new Set((await photosOfSubject(tx, organisationId, subject, hashes)).map((photo) => photo.sha256))
    const fresh = [...distinct.values()].filter(({ sha256 }) => !known.has(sha256))
    for (const picture of fresh) await this.#putIfSweptAway(organisationId, picture)
    const rows = fresh.map((picture) => ({ boatId, ...rowOf(picture) }))
    await insertPhotos(tx, organisationId, subject, rows)
    const photos = await photosOfSubject(tx, organisationId, subject, hashes)
    const byHash = new Map(photos.map((photo) => [photo.sha256, photoView(photo)]))
    const items = hashesInOrder(pictures).flatMap((sha256) => byHash.get(sha256) ?? [])
    return { items, added: rows.length > 0 }
  }

  async #put(organisationId: string, { sha256, full, thumb }: Picture): Promise<void> {
    await this.#store.put(pictureKey(organisationId, sha256, 'full'), full, STORED_MEDIA_TYPE)
    await this.#store.put(pictureKey(organisationId, sha256, 'thumb'), thumb, STORED_MEDIA_TYPE)
  }

  /** A sweep may have met the picture between its storing and now; from now on the lock keeps the sweep away. */
  async #putIfSweptAway(organisationId: string, picture: Picture): Promise<void> {
    const keys = (['full', 'thumb'] as const).map((size) => pictureKey(organisationId, picture.sha256, size))
    const there = await Promise.all(keys.map((key) => this.#store.has(key)))
    if (there.includes(false)) await this.#put(organisationId, picture)
  }
}

/** @throws NotFound */
async function boatOf(db: Db, actor: Actor, { kind, id }: PhotoSubject): Promise<string> {
  const row = kind === 'weighing' ? await findWeighing(db, actor, id) : await findHaulOut(db, actor, id)
  return found(row, `the ${kind}`).boatId
}

/** @throws NotFound when it is gone by now */
async function lockSubject(tx: Db, actor: Actor, subject: PhotoSubject): Promise<string> {
  const lock = subject.kind === 'weighing' ? lockWeighing : lockHaulOut
  const version = await lock(tx, actor.organisationId, subject.id)
  if (version === undefined) throw new NotFound(`the ${subject.kind}`)
  return boatOf(tx, actor, subject)
}

function rowOf({ sha256, widthPx, heightPx, full }: Picture) {
  return { sha256, mediaType: STORED_MEDIA_TYPE, widthPx, heightPx, bytes: full.byteLength }
}

function hashesInOrder(pictures: readonly Picture[]): string[] {
  return [...new Set(pictures.map(({ sha256 }) => sha256))]
}

function tagOf(sha256: string, size: PhotoSize): string {
  return size === 'full' ? sha256 : `${sha256}-${size}`
}

function photoView({ organisationId: _o, sha256: _s, mediaType: _m, ...shown }: PhotoRecord): PhotoView {
  const url = `/v1/photos/${shown.id}`
  return { ...shown, url, thumbUrl: `${url}?size=thumb` }
}
