import fc from 'fast-check'
import type { Credentials } from '../http/server.js'
import { whitePng } from '../services/photos/images.js'
import { Judge } from './judge.js'
import { KnownThings } from './known.js'
import type { ApiDocument } from './operations.js'
import { type Asker, type Plan, plansFor } from './plans.js'
import { Report } from './report.js'
import { type SentAnswer, send } from './send.js'
import { toWire, type WireRequest } from './wire.js'
import type { FuzzedYard } from './yard.js'

/** After so many requests, what they are about begins anew: they have destroyed much of it. */
const REQUESTS_A_ROUND = 500
const PICTURES = [whitePng(8, 8), whitePng(40, 30)]

/**
 * Sends requests made from the service's own document and judges each answer.
 *
 * @param requests how many
 * @param seed of the requests; which things they are about depends on the answers as well
 */
export async function fuzz(yard: FuzzedYard, requests: number, seed: number): Promise<Report> {
  const document: ApiDocument = (await yard.server.app.inject('/v1/openapi.json')).json()
  const judge = new Judge(document)
  const report = new Report(seed)
  const plans = plansFor(document, PICTURES)
  for (let done = 0; done < requests; done += REQUESTS_A_ROUND) {
    const { askers, boat, steps } = await yard.renew()
    const things = new KnownThings()
    for (const [name, values] of Object.entries(steps)) for (const value of values) things.add(`step ${name}`, value)
    await lookAround(yard, { headers: askers.administrator, boat }, document, things)
    const numRuns = Math.min(REQUESTS_A_ROUND, requests - done)
    for (const plan of fc.sample(plans, { numRuns, seed: seed + done })) {
      await tryOne({ yard, askers, judge, things, report }, plan)
    }
  }
  return report
}

interface Run {
  readonly yard: FuzzedYard
  readonly askers: Readonly<Record<Asker, Credentials>>
  readonly judge: Judge
  readonly things: KnownThings
  readonly report: Report
}

async function tryOne({ yard, askers, judge, things, report }: Run, plan: Plan): Promise<void> {
  const planned = toWire(plan, things)
  const wire = { ...planned, headers: { ...planned.headers, ...askers[plan.asker] } }
  const tagged = plan.kind === 'hostile' ? wire : await withTag(yard, wire)
  try {
    const answer = await send(yard.server, tagged, plan.overSocket)
    // Another path is another operation, or none.
    const operation = plan.rawStep === undefined && plan.method === plan.operation.method ? plan.operation : undefined
    report.add(plan, tagged, answer, judge.faultOf(operation, plan.method, answer))
    // Things of another organisation are not there for the others.
    if (plan.asker !== 'foreigner') learn(things, plan.operation.path, answer)
  } catch (error) {
    report.addUnanswered(plan, tagged, error)
  }
}

/**
 * A change needs the tag of the last reading: of the thing itself, or for a verb behind it (`/findings/x/resolve`) of
 * what stands before the verb; where there is no reading, things are as they were made.
 */
async function withTag({ server }: FuzzedYard, wire: WireRequest): Promise<WireRequest> {
  const { 'if-match': given, ...headers } = wire.headers
  if (given === undefined) return wire
  const { 'content-type': _type, ...reading } = headers
  const tagAt = async (url: string) => (await server.app.inject({ url, headers: reading })).headers.etag
  const path = wire.url.replace(/\?.*$/, '')
  const tag = (await tagAt(wire.url)) ?? (await tagAt(path.replace(/\/[^/]*$/, ''))) ?? '"1"'
  return { ...wire, headers: { ...headers, 'if-match': String(tag) } }
}

/** Every list is read once, so that requests know what is there. */
async function lookAround(
  { server }: FuzzedYard,
  { headers, boat }: { readonly headers: Credentials; readonly boat: string },
  document: ApiDocument,
  things: KnownThings,
): Promise<void> {
  const read = async (url: string, path: string) => {
    const answer = await server.app.inject({ url, headers })
    learn(things, path, { status: answer.statusCode, mediaType: 'application/json', body: answer.body })
  }
  const lists = Object.keys(document.paths).filter((path) => document.paths[path]?.get)
  for (const path of lists.filter((one) => !one.includes('{'))) await read(path, path)
  for (const path of lists.filter((one) => /^[^{]*\{boat\}[^{]*$/.test(one))) {
    await read(path.replace('{boat}', boat), path)
  }
}

function learn(things: KnownThings, path: string, answer: Pick<SentAnswer, 'status' | 'mediaType' | 'body'>): void {
  if (answer.status >= 300 || answer.mediaType !== 'application/json') return
  const steps = path.split('/').filter((step) => !step.startsWith('{'))
  try {
    things.learn(steps.at(-1) ?? '', JSON.parse(answer.body))
  } catch {
    // The judge has said so already.
  }
}
