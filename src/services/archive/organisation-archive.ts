import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Readable } from 'node:stream'
import ZipStream from 'zip-stream'
import { readOrganisation } from '../../db/archive/read-organisation.js'
import type { TableShape } from '../../db/backup/table-shapes.js'
import type { Db } from '../../db/client.js'
import type { PhotoStore } from '../../outside/photo-store.js'
import type { Actor } from '../actor.js'
import { keepFile } from '../backup/kept-files.js'
import { pictureKey } from '../photos/picture-keys.js'

/** Says what else is in the archive; the last of its files. */
export const ARCHIVE_MANIFEST = 'manifest.json'

export interface ArchiveManifest {
  readonly format: 1
  /** Of the service. */
  readonly version: string
  readonly organisationId: string
  readonly takenAt: string
  readonly tables: readonly { readonly name: string; readonly columns: TableShape['columns']; readonly rows: number }[]
  readonly files: readonly { readonly name: string; readonly bytes: number; readonly sha256: string }[]
  /** Photos on record whose file the store has not. */
  readonly missingPhotos: readonly string[]
}

interface SpooledTables extends Pick<ArchiveManifest, 'takenAt' | 'tables' | 'files'> {
  /** Hashes by which pictures are named. */
  readonly pictures: ReadonlySet<string>
}

/** All that an organisation has on record, photos as well, to take along: an open form, and nothing that opens anything. */
export class OrganisationArchive {
  readonly #db: Db
  readonly #photoStore: PhotoStore
  readonly #version: string

  constructor(db: Db, photoStore: PhotoStore, version: string) {
    this.#db = db
    this.#photoStore = photoStore
    this.#version = version
  }

  /**
   * All tables as of one moment, then the photos that they speak of, as a ZIP archive (APPNOTE 6.3, with ZIP64 where it is large). Rows are
   * read to a folder of the machine first: whoever reads slowly keeps no transaction open.
   */
  async open(actor: Actor): Promise<Readable> {
    const folder = await mkdtemp(join(tmpdir(), 'anode-ledger-archive-'))
    const forget = () => rm(folder, { recursive: true, force: true })
    try {
      const spooled = await this.#spool(actor, folder)
      const zip = new ZipStream({ zlib: { level: 6 } })
      this.#fill(zip, spooled, actor.organisationId, folder)
        .catch((error: Error) => zip.destroy(error))
        .finally(forget)
      return zip as unknown as Readable
    } catch (error) {
      await forget()
      throw error
    }
  }

  #spool({ organisationId }: Actor, folder: string): Promise<SpooledTables> {
    return readOrganisation(this.#db, { organisationId, actor: 'archive' }, async ({ takenAt, tables, linesOf }) => {
      const kept: SpooledTables['tables'][number][] = []
      const files: SpooledTables['files'][number][] = []
      const pictures = new Set<string>()
      for (const table of tables) {
        let rows = 0
        const lines = encoded(linesOf(table), (line) => {
          rows++
          if (table.name === 'photos') pictures.add(JSON.parse(line).sha256)
        })
        files.push(await keepFile(folder, `tables/${table.name}.ndjson`, lines))
        kept.push({ ...table, rows })
      }
      return { takenAt, tables: kept, files, pictures }
    })
  }

  async #fill(zip: ZipStream, spooled: SpooledTables, organisationId: string, folder: string): Promise<void> {
    const { pictures, tables, takenAt } = spooled
    const files = [...spooled.files]
    const missingPhotos: string[] = []
    for (const { name } of spooled.files) await add(zip, createReadStream(join(folder, name)), { name })
    for (const sha256 of pictures) {
      const bytes = await this.#photoStore.get(pictureKey(organisationId, sha256, 'full'))
      const name = `photos/${sha256}.webp`
      if (bytes === undefined) {
        missingPhotos.push(name)
        continue
      }
      // Pictures are packed already.
      await add(zip, Buffer.from(bytes), { name, store: true })
      files.push({ name, bytes: bytes.byteLength, sha256: createHash('sha256').update(bytes).digest('hex') })
    }
    const manifest: ArchiveManifest = {
      format: 1,
      version: this.#version,
      organisationId,
      takenAt,
      tables,
      files,
      missingPhotos,
    }
    await add(zip, Buffer.from(`${JSON.stringify(manifest, null, 1)}\n`), { name: ARCHIVE_MANIFEST })
    zip.finish()
  }
}

/** Writes one file into the archive; ends as well where its reader is gone. */
function add(zip: ZipStream, content: Readable | Buffer, entry: { name: string; store?: boolean }): Promise<void> {
  return new Promise((done, fail) => {
    const gone = () => fail(new Error('whoever asked for the archive is gone'))
    if (zip.destroyed) return gone()
    zip.once('close', gone)
    zip.entry(content as never, entry, (error) => {
      zip.off('close', gone)
      if (error) fail(error)
      else done()
    })
  })
}

async function* encoded(lines: AsyncIterable<string>, look: (line: string) => void): AsyncIterable<Uint8Array> {
  for await (const line of lines) {
    look(line)
    yield Buffer.from(`${line}\n`)
  }
}
