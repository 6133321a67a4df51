import { existsSync } from 'node:fs'
import { join } from 'node:path'
import fastifyStatic from '@fastify/static'
import type { FastifyInstance, FastifyRequest } from 'fastify'
import { refuseUnknownPath } from '../error-handler.js'

/** Built files carry a hash of their content in their name and never change under it. */
const ASSET_MAX_AGE_S = 365 * 86_400
/** Paths of the service itself: never a page of the app. */
const OWN_PATHS = /^\/(v1|docs|health)(\/|$|\?)/
const OF_THE_LIFT = /^\/lift(\/|$|\?)/

/** The built web app: its files, and its start page for each address that a page of it stands for. */
export async function serveWebApp(app: FastifyInstance, folder: string): Promise<void> {
  await app.register(fastifyStatic, {
    root: folder,
    wildcard: false,
    cacheControl: false,
    // The build packs each file once, beside it.
    preCompressed: true,
    setHeaders: (reply, path) => {
      reply.setHeader('cache-control', cacheControl(path, folder))
      reply.setHeader('vary', 'accept-encoding')
    },
  })
  app.setNotFoundHandler((request, reply) =>
    isPage(request) ? reply.sendFile(startPageOf(request.url)) : refuseUnknownPath(request, reply),
  )
}

/** The lift's names the files of the lift, so that a phone fetches them all at once. */
function startPageOf(url: string): string {
  return OF_THE_LIFT.test(url) ? 'lift.html' : 'index.html'
}

/** Whether the app has been built. */
export function isBuilt(folder: string): boolean {
  return existsSync(join(folder, 'index.html'))
}

function cacheControl(path: string, folder: string): string {
  return path.startsWith(join(folder, 'assets')) ? `public, max-age=${ASSET_MAX_AGE_S}, immutable` : 'no-cache'
}

function isPage(request: FastifyRequest): boolean {
  const wantsHtml = request.headers.accept?.includes('text/html') ?? false
  return (request.method === 'GET' || request.method === 'HEAD') && wantsHtml && !OWN_PATHS.test(request.url)
}
