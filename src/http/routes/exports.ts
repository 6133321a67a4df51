import { promisify } from 'node:util'
import type { FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { type AsyncZippable, zip } from 'fflate'
import { z } from 'zod'
import { CSV_FILE_NAMES } from '../../contract/csv/index.js'
import type { ExportedFile, ExportService } from '../../services/exports/export-service.js'
import { preferredType } from '../accept.js'
import { requires } from '../auth/requires.js'
import { HttpProblem } from '../problem.js'

const tags = ['Imports and exports']
const CSV_TYPE = 'text/csv; charset=utf-8'
const FORM = 'multipart/form-data'
const ZIP = 'application/zip'
const LISTING = 'application/json'

const ExportListing = z
  .object({ items: z.array(z.object({ file: z.enum(CSV_FILE_NAMES), href: z.string() })) })
  .meta({ id: 'ExportListing', examples: [{ items: [{ file: 'boats.csv', href: '/v1/exports/boats.csv' }] }] })

const Bytes = z.any().meta({ type: 'string', format: 'binary' })

const DESCRIPTION = `The whole fleet as of one moment. The answer depends on what the request accepts:

- \`${FORM}\` (also for \`*/*\`): one part a file, in the form that \`POST /v1/imports\` takes, so that it can be posted back as it is;
- \`${ZIP}\` (also for a browser): the files in an archive;
- \`${LISTING}\`: where each file is by itself.

Rows are ordered by their key, numbers are written so that they read back exactly, and cells stay as they were entered: a
text that begins with \`=\` does so in the file too. Mind that before opening a file of unknown origin in a spreadsheet.`

export const exportRoutes: FastifyPluginAsyncZod<{ exports: ExportService }> = async (app, { exports }) => {
  app.get(
    '/v1/exports',
    {
      preHandler: requires('fleet:export'),
      schema: {
        tags,
        summary: 'Give the fleet back as CSV files',
        description: DESCRIPTION,
        response: {
          200: {
            description: 'The files',
            content: { [FORM]: { schema: Bytes }, [ZIP]: { schema: Bytes }, [LISTING]: { schema: ExportListing } },
          },
        },
      },
    },
    (request, reply) => SENDERS[wantedType(request)](reply, () => exports.all(request.actor)),
  )

  app.get(
    '/v1/exports/:file',
    {
      preHandler: requires('fleet:export'),
      schema: {
        tags,
        summary: 'Give one of the CSV files back',
        params: z.object({ file: z.enum(CSV_FILE_NAMES) }),
        response: { 200: { description: 'The file', content: { 'text/csv': { schema: Bytes } } } },
      },
    },
    async (request, reply) => {
      const { file } = request.params
      const text = await exports.one(request.actor, file)
      return asAttachment(reply, file).type(CSV_TYPE).send(Buffer.from(text, 'utf8'))
    },
  )
}

type AllFiles = () => Promise<readonly ExportedFile[]>

const SENDERS = { [FORM]: sendForm, [ZIP]: sendZip, [LISTING]: sendListing } as const
const OFFERS = { [FORM]: FORM, [ZIP]: ZIP, [LISTING]: LISTING, 'text/html': ZIP } as const

function wantedType(request: FastifyRequest): keyof typeof SENDERS {
  const type = preferredType(request.headers.accept, OFFERS)
  if (type === undefined) throw new HttpProblem(406, `the files come as ${FORM}, ${ZIP} or ${LISTING}`)
  return type
}

async function sendListing(reply: FastifyReply): Promise<FastifyReply> {
  const items = CSV_FILE_NAMES.map((file) => ({ file, href: `/v1/exports/${file}` }))
  return reply
    .header('vary', 'accept')
    .type(LISTING)
    .send({ items } satisfies z.infer<typeof ExportListing>)
}

async function sendForm(reply: FastifyReply, allFiles: AllFiles): Promise<FastifyReply> {
  const files = await allFiles()
  const form = new FormData()
  for (const { name, text } of files) form.append(name, new Blob([text], { type: CSV_TYPE }), name)
  const encoded = new Response(form)
  const type = encoded.headers.get('content-type') ?? FORM
  return reply
    .header('vary', 'accept')
    .type(type)
    .send(Buffer.from(await encoded.arrayBuffer()))
}

const zipped = promisify<AsyncZippable, Uint8Array>(zip)

async function sendZip(reply: FastifyReply, allFiles: AllFiles): Promise<FastifyReply> {
  const files = await allFiles()
  const archive = await zipped(Object.fromEntries(files.map(({ name, text }) => [name, Buffer.from(text, 'utf8')])))
  return asAttachment(reply, 'fleet.zip').header('vary', 'accept').type(ZIP).send(Buffer.from(archive))
}

function asAttachment(reply: FastifyReply, name: string): FastifyReply {
  return reply.header('content-disposition', `attachment; filename="${name}"`)
}
