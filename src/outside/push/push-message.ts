import { createHash } from 'node:crypto'
import webPush from 'web-push'
import type { PushContent } from '../../contract/push.js'
import type { OutsideRequest } from '../web/send-out.js'

/** The service as push services know it (RFC 8292): a pair of keys of P-256 as base64url, and whom to turn to. */
export interface PushIdentity {
  readonly publicKey: string
  readonly privateKey: string
  /** A mailto: or https: address. */
  readonly subject: string
}

/** A browser that asked to be told. */
export interface PushTarget {
  readonly endpoint: string
  readonly p256dh: string
  readonly auth: string
}

/** A phone that was off for a week learns of it still: dates are weeks away, not hours. */
const KEPT_SECONDS = 7 * 24 * 60 * 60
/** A push service takes 4096 bytes, of which the encryption needs 103 (RFC 8291, 4). */
const LONGEST_TITLE = 120
const LONGEST_BODY = 600
const TOPIC_LENGTH = 32

export function makePushKeys(): Pick<PushIdentity, 'publicKey' | 'privateKey'> {
  return webPush.generateVAPIDKeys()
}

/** The request that brings a message to a browser: encrypted for it (RFC 8291), signed as ours (RFC 8292). */
export function pushRequest(target: PushTarget, content: PushContent, identity: PushIdentity): OutsideRequest {
  const { endpoint, p256dh, auth } = target
  const payload: PushContent = {
    ...content,
    title: shortened(content.title, LONGEST_TITLE),
    body: shortened(content.body, LONGEST_BODY),
  }
  const details = webPush.generateRequestDetails({ endpoint, keys: { p256dh, auth } }, JSON.stringify(payload), {
    vapidDetails: identity,
    contentEncoding: 'aes128gcm',
    TTL: KEPT_SECONDS,
    // A later message of the same tag takes the place of one that still waits (RFC 8030, 5.4).
    topic: createHash('sha256').update(content.tag).digest('base64url').slice(0, TOPIC_LENGTH),
  })
  // Its length is told by whoever sends it.
  const headers = Object.entries(details.headers).filter(([name]) => name.toLowerCase() !== 'content-length')
  return {
    url: details.endpoint,
    headers: Object.fromEntries(headers.map(([name, value]) => [name.toLowerCase(), String(value)])),
    body: details.body,
  }
}

/** By characters, not by halves of them. */
function shortened(text: string, most: number): string {
  const characters = [...text]
  return characters.length <= most ? text : `${characters.slice(0, most - 1).join('')}…`
}
