import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'

export const MANIFEST_FILE = 'manifest.json'
export const SECRET_FILE = 'session-secret'
export const PHOTO_FOLDER = 'photos'

const Hash = z.string().regex(/^[0-9a-f]{64}$/)
/** Only names that a backup gives: none leads out of its folder. */
const FileName = z
  .string()
  .regex(/^(session-secret|tables\/[a-z_]+\.ndjson\.gz|photos\/[0-9a-f-]{36}\/[0-9a-f]{64}(\.thumb)?\.webp)$/)

const Manifest = z.strictObject({
  /** Of this layout of files. */
  format: z.literal(1),
  version: z.string(),
  takenAt: z.string(),
  migratedTo: z.number(),
  tables: z.array(z.strictObject({ name: z.string(), columns: z.array(z.string()), rows: z.number().int().min(0) })),
  files: z.array(z.strictObject({ name: FileName, bytes: z.number().int().min(0), sha256: Hash })),
  /** Of photos that the database knows, but whose files were not there. */
  missingPhotos: z.array(z.string()),
})

/** What a backup holds, and by what each file is known to be whole. Written last: a folder without it is no backup. */
export type Manifest = z.output<typeof Manifest>
export type KeptFile = Manifest['files'][number]

export const tableFile = (name: string) => `tables/${name}.ndjson.gz`

/** @throws Error when the folder holds no backup, or one of another layout */
export async function readManifest(folder: string): Promise<Manifest> {
  const text = await readFile(join(folder, MANIFEST_FILE), 'utf8').catch(() => {
    throw new Error(`${folder} holds no backup: there is no ${MANIFEST_FILE} in it`)
  })
  const read = Manifest.safeParse(jsonOf(text))
  if (read.success) return read.data
  const [issue] = read.error.issues
  throw new Error(`${MANIFEST_FILE} in ${folder} cannot be read: ${issue?.path.join('.')} ${issue?.message}`)
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
