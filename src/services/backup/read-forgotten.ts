import { readFile } from 'node:fs/promises'
import { z } from 'zod'
import type { ForgottenPerson } from '../../db/backup/forget-again.js'

const Row = z.object({
  organisation_id: z.uuid(),
  address_sha256: z.string().regex(/^[0-9a-f]{64}$/),
  alias: z.string().regex(/^forgotten-[0-9a-f]+$/),
})

/** Reads `tables/forgotten_people.ndjson` of an organisation's archive. @throws Error naming the first line that is none of it */
export async function readForgotten(file: string): Promise<ForgottenPerson[]> {
  const lines = (await readFile(file, 'utf8')).split('\n')
  return lines.flatMap((line, index) => (line.trim() === '' ? [] : [personOf(line, `${file}, line ${index + 1}`)]))
}

function personOf(line: string, where: string): ForgottenPerson {
  try {
    const row = Row.parse(JSON.parse(line))
    return { organisationId: row.organisation_id, addressSha256: row.address_sha256, alias: row.alias }
  } catch (cause) {
    throw new Error(`${where}: this is no row of forgotten_people`, { cause })
  }
}
