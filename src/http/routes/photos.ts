import type { FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { BoatParams } from '../../contract/boats.js'
import {
  AddedPhotos,
  LARGEST_PHOTO_BYTES,
  PHOTO_MEDIA_TYPES,
  PhotoPage,
  PhotoParams,
  PhotoQuery,
  PictureQuery,
} from '../../contract/photos.js'
import type { PhotoSubject } from '../../db/repositories/photos.js'
import { Invalid, PreconditionRequired, Stale } from '../../services/errors.js'
import type { PhotoService, StoredPicture } from '../../services/photos/photos.js'
import type { PhotoUpload } from '../../services/photos/uploads.js'
import { requires } from '../auth/requires.js'
import { IfMatch, namesTag, UNCHANGED } from '../etag.js'
import { requireForm, whole } from '../form-parts.js'
import { HttpProblem } from '../problem.js'

const tags = ['Photos']

/** The pictures themselves are read part by part; this is what the document says of them. */
const PhotoForm = z.unknown().meta({
  type: 'object',
  required: ['photo'],
  properties: {
    photo: {
      type: 'array',
      minItems: 1,
      items: { type: 'string', format: 'binary' },
      description: `${PHOTO_MEDIA_TYPES.join(', ')}; up to ${LARGEST_PHOTO_BYTES / 1024 / 1024} MB each`,
    },
  },
})

const uploadSchema = {
  tags,
  consumes: ['multipart/form-data'],
  body: PhotoForm,
  response: { 200: AddedPhotos.describe('All of them were there already'), 201: AddedPhotos },
}

const PICTURE = {
  description: 'The picture, turned upright, without what the camera wrote along',
  content: { 'image/webp': { schema: z.unknown().meta({ type: 'string', format: 'binary' }) } },
}

export const photoRoutes: FastifyPluginAsyncZod<{ photos: PhotoService }> = async (app, { photos }) => {
  app.post(
    '/v1/weighings/:weighing/photos',
    {
      preHandler: requires('lift:write'),
      schema: { ...uploadSchema, summary: 'Add photos to a weighing', params: z.object({ weighing: z.uuid() }) },
    },
    (request, reply) => addPhotos(request, reply, photos, { kind: 'weighing', id: request.params.weighing }),
  )

  app.post(
    '/v1/haul-outs/:haulOut/photos',
    {
      preHandler: requires('lift:write'),
      schema: { ...uploadSchema, summary: 'Add photos to a haul-out', params: z.object({ haulOut: z.uuid() }) },
    },
    (request, reply) => addPhotos(request, reply, photos, { kind: 'haul-out', id: request.params.haulOut }),
  )

  app.get(
    '/v1/boats/:boat/photos',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: "List a boat's photos",
        params: BoatParams,
        querystring: PhotoQuery,
        response: { 200: PhotoPage },
      },
    },
    (request) => photos.pageOfBoat(request.actor, request.params.boat, request.query),
  )

  app.get(
    '/v1/photos/:photo',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: 'Show a photo',
        params: PhotoParams,
        querystring: PictureQuery,
        response: { 200: PICTURE, 304: UNCHANGED },
      },
    },
    async (request, reply) => {
      const picture = await photos.picture(request.actor, request.params.photo, request.query.size)
      return sendPicture(request, reply, picture)
    },
  )

  app.delete(
    '/v1/photos/:photo',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Remove a photo',
        description: 'If-Match takes the ETag of the picture, or the version that lists show, in quotes.',
        params: PhotoParams,
        headers: IfMatch,
        response: { 204: z.null().describe('Removed') },
      },
    },
    async (request, reply) => {
      await photos.remove(request.actor, request.params.photo, requireTag(request.headers['if-match']))
      return reply.code(204).send(null)
    },
  )
}

async function addPhotos(request: FastifyRequest, reply: FastifyReply, photos: PhotoService, subject: PhotoSubject) {
  requireForm(request, 'photos as file parts')
  try {
    const { items, added } = await photos.add(request.actor, subject, uploadsOf(request))
    return reply.code(added ? 201 : 200).send({ items })
  } catch (error) {
    // Nobody hears this answer, but it decides about the Idempotency-Key: after a 5xx the sender may come again.
    const isCutOff = request.raw.destroyed && !request.raw.complete
    if (isCutOff) throw new HttpProblem(503, 'the request was cut off; send it again')
    // The sender hears nothing before it has sent all: the rest of a refused request is let run off.
    request.raw.resume()
    throw error
  }
}

/** The parts of a form as they arrive; one byte more than is taken, so that too large a file is seen to be one. */
async function* uploadsOf(request: FastifyRequest): AsyncGenerator<PhotoUpload> {
  for await (const part of whole(request.parts({ limits: { fileSize: LARGEST_PHOTO_BYTES + 1 } }))) {
    if (part.type === 'file') yield { part: part.fieldname, fileName: part.filename, content: whole(part.file) }
    else throw new Invalid([{ pointer: `#/${part.fieldname}`, detail: `${part.fieldname} is not a file` }])
  }
}

/** A year: the bytes behind an id never change. Another person at the same browser must ask again. */
const CACHED = 'private, max-age=31536000, immutable'

function sendPicture(request: FastifyRequest, reply: FastifyReply, { bytes, mediaType, tag }: StoredPicture) {
  const etag = `"${tag}"`
  reply.header('etag', etag).header('cache-control', CACHED).header('vary', 'authorization, cookie')
  if (namesTag(request.headers['if-none-match'], etag)) return reply.code(304).send()
  return reply.type(mediaType).header('content-disposition', 'inline').send(Buffer.from(bytes))
}

/** @throws PreconditionRequired, Stale */
function requireTag(given: string | undefined): string {
  const text = given?.trim()
  if (!text || text === '*') throw new PreconditionRequired()
  const tag = /^"([0-9a-f]{1,64})"$/.exec(text)?.[1]
  if (tag === undefined) throw new Stale('the photo')
  return tag
}
