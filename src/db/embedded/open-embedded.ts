import { fsyncSync, mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { PGlite } from '@electric-sql/pglite'
import { btree_gist } from '@electric-sql/pglite/contrib/btree_gist'
import { pg_trgm } from '@electric-sql/pglite/contrib/pg_trgm'
import { NodeFS } from '@electric-sql/pglite/nodefs'

/** The part of the embedded database's internals that the file system below reaches into; the version is pinned for it. */
interface NodeFsModule {
  NODEFS: { stream_ops: { fsync?: (stream: { nfd: number }) => number } }
}

/** As shipped the embedded database never syncs its files to the disk; with this, each commit does. */
class SyncedNodeFS extends NodeFS {
  override async init(...args: Parameters<NodeFS['init']>): ReturnType<NodeFS['init']> {
    const made = await super.init(...args)
    made.emscriptenOpts.preRun ??= []
    const preRun = made.emscriptenOpts.preRun as unknown as ((module: NodeFsModule) => void)[]
    preRun.push((module) => {
      module.NODEFS.stream_ops.fsync = (stream) => {
        fsyncSync(stream.nfd)
        return 0
      }
    })
    return made
  }
}

const withoutNoSync = PGlite.defaultStartParams.filter((parameter) => parameter !== '-F')

/** Opens (or makes) the embedded PostgreSQL under a data folder, with every commit synced to the disk. */
export async function openEmbedded(dataDir: string): Promise<PGlite> {
  mkdirSync(dataDir, { recursive: true })
  return PGlite.create({
    fs: new SyncedNodeFS(join(dataDir, 'database')),
    extensions: { btree_gist, pg_trgm },
    relaxedDurability: false,
    startParams: [...withoutNoSync, '-c', 'fsync=on', '-c', 'wal_sync_method=fsync'],
  })
}
