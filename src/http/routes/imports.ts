import type { MultipartFile, MultipartValue } from '@fastify/multipart'
import type { FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { CSV_FILE_NAMES, CSV_FILES, csvFileNamed } from '../../contract/csv/index.js'
import { ImportAnswer, ImportQuery } from '../../contract/imports.js'
import { ImportRejected } from '../../services/imports/cell-errors.js'
import type { ImportService, ImportSource } from '../../services/imports/import-service.js'
import { requires } from '../auth/requires.js'
import { requireForm, whole } from '../form-parts.js'
import { HttpProblem } from '../problem.js'

const LARGEST_FILE_BYTES = 64 * 1024 * 1024
const LIMITS = { fileSize: LARGEST_FILE_BYTES, fieldSize: LARGEST_FILE_BYTES, files: CSV_FILE_NAMES.length }

const DESCRIPTION = `One part a CSV file (UTF-8, header row, comma, RFC 4180), any subset of the files below; the file's name decides
which it is. All or nothing: a bad cell rejects the whole import with 422 and a list of file, line, column and reason
(the first 200; \`errorCount\` counts all). Loading the same rows again changes nothing; a row with the same key and other
values updates. Empty cells are unknown.

${Object.values(CSV_FILES)
  .map(({ name, key, columns }) => {
    const cells = Object.keys(columns).map((column) => (key.includes(column) ? `**${column}**` : column))
    return `- \`${name}\`: ${cells.join(', ')}`
  })
  .join('\n')}`

/** Read part by part, never as a whole: the schema describes the body and holds nothing against it. */
const Files = z.any().meta({
  type: 'object',
  properties: Object.fromEntries(CSV_FILE_NAMES.map((name) => [name, { type: 'string', format: 'binary' }])),
})

export const importRoutes: FastifyPluginAsyncZod<{ imports: ImportService }> = async (app, { imports }) => {
  app.post(
    '/v1/imports',
    {
      preHandler: requires('fleet:import'),
      schema: {
        tags: ['Imports and exports'],
        summary: 'Load a fleet from CSV files',
        description: DESCRIPTION,
        consumes: ['multipart/form-data'],
        body: Files,
        querystring: ImportQuery,
        response: { 200: ImportAnswer },
      },
    },
    (request) => imports.run(request.actor, filesOf(request), request.query).catch(refuse),
  )
}

/** The files as they arrive, one after the other. */
async function* filesOf(request: FastifyRequest): AsyncGenerator<ImportSource> {
  requireForm(request, 'the CSV files as the parts')
  for await (const part of whole(request.parts({ limits: LIMITS }))) {
    if (part.type === 'field') {
      yield { name: part.fieldname, content: bytesOf(part) }
      continue
    }
    // What is wrong with one file is found before its end; the rest must be taken for the next to arrive.
    yield { name: nameOf(part), content: whole(part.file.iterator({ destroyOnReturn: false })) }
    part.file.resume()
  }
}

/** The file's own name, or the field's where only that says which file it is. */
function nameOf({ filename, fieldname }: MultipartFile): string {
  return csvFileNamed(filename) === undefined && csvFileNamed(fieldname) ? fieldname : filename || fieldname
}

/** A part without a file's name arrives as text. */
async function* bytesOf({ value, valueTruncated }: MultipartValue): AsyncGenerator<Uint8Array> {
  if (valueTruncated) throw new HttpProblem(413, 'a file of this request is too large')
  yield Buffer.from(String(value), 'utf8')
}

function refuse(error: unknown): never {
  if (!(error instanceof ImportRejected)) throw error
  const { errors, errorCount, message } = error
  const kind = { type: 'urn:anode-ledger:problem:import-rejected', title: 'The import was rejected' }
  throw new HttpProblem(422, message, { members: { ...kind, errorCount, errors } })
}
