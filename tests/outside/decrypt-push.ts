import { createDecipheriv, createECDH, type ECDH, hkdfSync } from 'node:crypto'

/** A browser's side of a subscription. */
export interface Browser {
  readonly keys: ECDH
  readonly auth: Buffer
}

const SALT_BYTES = 16
const TAG_BYTES = 16

export function browserOf(privateKey: string, auth: string): Browser {
  const keys = createECDH('prime256v1')
  keys.setPrivateKey(Buffer.from(privateKey, 'base64url'))
  return { keys, auth: Buffer.from(auth, 'base64url') }
}

/** What a browser does with a message: RFC 8291, 3.4, over the content coding aes128gcm of RFC 8188, one record. */
export function decryptPush(body: Uint8Array, { keys, auth }: Browser): string {
  const message = Buffer.from(body)
  const salt = message.subarray(0, SALT_BYTES)
  const recordSize = message.readUInt32BE(SALT_BYTES)
  const idLength = message.readUInt8(SALT_BYTES + 4)
  const sender = message.subarray(SALT_BYTES + 5, SALT_BYTES + 5 + idLength)
  const record = message.subarray(SALT_BYTES + 5 + idLength)
  if (record.length > recordSize) throw new Error('more than one record')
  const secret = keys.computeSecret(sender)
  const info = Buffer.concat([Buffer.from('WebPush: info\0'), keys.getPublicKey(), sender])
  const ikm = Buffer.from(hkdfSync('sha256', secret, auth, info, 32))
  const key = Buffer.from(hkdfSync('sha256', ikm, salt, 'Content-Encoding: aes128gcm\0', 16))
  const nonce = Buffer.from(hkdfSync('sha256', ikm, salt, 'Content-Encoding: nonce\0', 12))
  const decipher = createDecipheriv('aes-128-gcm', key, nonce)
  decipher.setAuthTag(record.subarray(-TAG_BYTES))
  const padded = Buffer.concat([decipher.update(record.subarray(0, -TAG_BYTES)), decipher.final()])
  // RFC 8188, 2: the last record ends with 2 and any number of zeros.
  const end = padded.lastIndexOf(2)
  return padded.subarray(0, end).toString('utf8')
}
