import { lookup as resolve } from 'node:dns/promises'
import { isIP, type LookupFunction } from 'node:net'
import { Agent, fetch } from 'undici'
import { outgoing } from '../../telemetry/outgoing.js'
import type { AddressRules } from './address-rules.js'

/** What another system answered. */
export interface OutsideAnswer {
  readonly status: number
  /** How the body begins. */
  readonly start: string
}

/** No answer came: the sentence says why, for whoever set the address up. */
export class NotReached extends Error {
  constructor(reason: string, cause?: unknown) {
    super(reason, { cause })
    this.name = 'NotReached'
  }
}

/** The address leads to where nothing may be sent. */
export class RefusedAddress extends NotReached {}

export interface OutsideRequest {
  readonly url: string
  readonly headers: Readonly<Record<string, string>>
  readonly body: string | Uint8Array
}

const TIME_LIMIT_MS = 10_000
const CONNECT_LIMIT_MS = 5_000
/** An answer is looked at, not kept: more than this is cut off. */
const MOST_BYTES = 16 * 1024
const SHOWN_CHARACTERS = 500

/** How hosts are resolved; the system's way unless a test says otherwise. */
export type Resolve = (host: string) => Promise<readonly { readonly address: string; readonly family: number }[]>
const bySystem: Resolve = (host) => resolve(host, { all: true })

/**
 * Posts to addresses that people have named. The host is resolved once, each of its addresses is held against the rules, and the
 * connection goes to one that was looked at: a name that changes its mind between the two gains nothing. Redirects are not
 * followed, and both the time and what is read of the answer are limited.
 */
export class SendOut {
  readonly #rules: AddressRules
  readonly #resolve: Resolve
  readonly #limitMs: number

  constructor(rules: AddressRules, { resolve = bySystem, limitMs = TIME_LIMIT_MS }: SendOutOptions = {}) {
    this.#rules = rules
    this.#resolve = resolve
    this.#limitMs = limitMs
  }

  /** @throws NotReached */
  post(request: OutsideRequest): Promise<OutsideAnswer> {
    // The host alone: what follows in an address that a person named may be what lets in.
    const { hostname } = new URL(request.url)
    const attributes = { 'http.request.method': 'POST', 'server.address': hostname }
    return outgoing('web', 'POST', attributes, async (span) => {
      const answer = await this.#post(request)
      span.setAttribute('http.response.status_code', answer.status)
      return answer
    })
  }

  async #post({ url, headers, body }: OutsideRequest): Promise<OutsideAnswer> {
    const signal = AbortSignal.timeout(this.#limitMs)
    const addresses = await this.check(url)
    const agent = new Agent({
      connect: { lookup: only(addresses), timeout: Math.min(CONNECT_LIMIT_MS, this.#limitMs) },
      pipelining: 0,
    })
    try {
      const answer = await fetch(url, { method: 'POST', headers, body, redirect: 'manual', signal, dispatcher: agent })
      return { status: answer.status, start: await startOf(answer.body) }
    } catch (error) {
      throw signal.aborted ? new NotReached('no answer came in time', error) : new NotReached(reasonOf(error), error)
    } finally {
      await agent.destroy()
    }
  }

  /**
   * Where a URL leads, if something may be sent there.
   *
   * @throws RefusedAddress, NotReached where the host has no address
   */
  async check(url: string): Promise<readonly Address[]> {
    const { protocol, hostname } = new URL(url)
    const host = hostname.replace(/^\[|\]$/g, '')
    const found = isIP(host) ? [{ address: host, family: isIP(host) }] : await this.#addressesOf(host)
    const allowed = found.every(({ address }) => this.#rules.allows(address))
    if (!allowed) throw new RefusedAddress(`${host} is not in the public network, and nobody has allowed it`)
    const isNamed = found.every(({ address }) => this.#rules.isNamed(address))
    if (protocol !== 'https:' && !isNamed) throw new RefusedAddress(`${host} is reached by https only`)
    return found
  }

  async #addressesOf(host: string): Promise<readonly Address[]> {
    const found = await this.#resolve(host).catch((error: unknown) => {
      throw new NotReached(`${host} was not found`, error)
    })
    if (found.length === 0) throw new NotReached(`${host} was not found`)
    return found
  }
}

interface Address {
  readonly address: string
  readonly family: number
}

export interface SendOutOptions {
  readonly resolve?: Resolve
  readonly limitMs?: number
}

/** Connects to what was looked at, and asks nobody again. */
function only(addresses: readonly Address[]): LookupFunction {
  return (_host, options, done) => {
    const [first] = addresses
    if (options.all) done(null, [...addresses])
    else done(null, first!.address, first!.family)
  }
}

async function startOf(body: AsyncIterable<Uint8Array> | null): Promise<string> {
  const chunks: Uint8Array[] = []
  let size = 0
  // Leaving the loop closes the stream: what comes after is never read.
  for await (const chunk of body ?? []) {
    chunks.push(chunk)
    size += chunk.byteLength
    if (size >= MOST_BYTES) break
  }
  const text = new TextDecoder().decode(Buffer.concat(chunks).subarray(0, MOST_BYTES))
  // PostgreSQL cannot hold the NUL character in a text.
  return text.replaceAll('\0', '\uFFFD').slice(0, SHOWN_CHARACTERS)
}

const REASONS: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'nobody listens at this address',
  ECONNRESET: 'the connection was cut off',
  EHOSTUNREACH: 'the machine cannot be reached',
  ENETUNREACH: 'the network cannot be reached',
  ETIMEDOUT: 'no answer came in time',
  UND_ERR_CONNECT_TIMEOUT: 'no answer came in time',
  UND_ERR_SOCKET: 'the connection was cut off',
  CERT_HAS_EXPIRED: 'its certificate has expired',
  DEPTH_ZERO_SELF_SIGNED_CERT: 'its certificate is signed by nobody who is trusted',
  UNABLE_TO_VERIFY_LEAF_SIGNATURE: 'its certificate is signed by nobody who is trusted',
  ERR_TLS_CERT_ALTNAME_INVALID: 'its certificate is of another name',
}

function reasonOf(error: unknown): string {
  const cause = error instanceof Error && error.cause instanceof Error ? error.cause : error
  const { code, message } = (cause ?? {}) as { code?: unknown; message?: unknown }
  // The Fetch standard keeps ports of other services from being spoken to.
  if (message === 'bad port') return 'its port is one of another kind of service'
  const known = typeof code === 'string' ? REASONS[code] : undefined
  return known ?? `it could not be reached (${typeof code === 'string' ? code : 'unknown reason'})`
}
