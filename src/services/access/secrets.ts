import { createHash, randomBytes } from 'node:crypto'

/** 32 random bytes cannot be guessed, so a plain hash of them is enough: there is nothing to slow down. */
const SECRET_BYTES = 32

export function makeSecret(): string {
  return randomBytes(SECRET_BYTES).toString('base64url')
}

export function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex')
}
