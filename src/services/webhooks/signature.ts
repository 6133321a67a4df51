import { createHmac, randomBytes } from 'node:crypto'

const SECRET_PREFIX = 'whsec_'
/** As long as the hash: RFC 2104, 3, asks for no less and gains nothing by more. */
const SECRET_BYTES = 32

/** A new secret, as a person copies it. */
export function makeWebhookSecret(): string {
  return SECRET_PREFIX + randomBytes(SECRET_BYTES).toString('base64')
}

/** HMAC-SHA-256 (RFC 2104, RFC 6234). */
export function hmacSha256(key: Uint8Array, message: string | Uint8Array): Buffer {
  return createHmac('sha256', key).update(message).digest()
}

export interface SignedMessage {
  readonly id: string
  /** Seconds since 1970: of this attempt, so that an old recording can be told. */
  readonly timestamp: number
  readonly body: string
}

/**
 * The headers that sign a message: `v1,` and the base64 of HMAC-SHA-256 over `id.timestamp.body`, once for each secret, with a space
 * between. The key is what stands behind `whsec_`, as base64.
 *
 * The scheme is that of the Standard Webhooks specification 1.0.0, for which there are libraries in most languages.
 */
export function signatureHeaders(message: SignedMessage, secrets: readonly string[]): Record<string, string> {
  const { id, timestamp, body } = message
  const signatures = secrets.map((secret) => {
    const key = Buffer.from(secret.slice(SECRET_PREFIX.length), 'base64')
    return `v1,${hmacSha256(key, `${id}.${timestamp}.${body}`).toString('base64')}`
  })
  return {
    'webhook-id': id,
    'webhook-timestamp': String(timestamp),
    'webhook-signature': signatures.join(' '),
  }
}
