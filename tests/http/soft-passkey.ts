import { createHash, generateKeyPairSync, type KeyObject, randomBytes, sign } from 'node:crypto'

/** User present, user verified, credential data attached (WebAuthn Level 3, 6.1). */
const PRESENT = 0x01
const VERIFIED = 0x04
const ATTACHED = 0x40

interface Question {
  readonly ceremony: string
  readonly options: { readonly challenge: string }
}

export interface DeviceOptions {
  readonly origin: string
  readonly site: string
  /** Whether it recognised its holder. */
  readonly verifies?: boolean
}

/** A device that makes one passkey and signs with it, by the letter of the standard: attestation "none", ES256. */
export class SoftPasskey {
  readonly id = randomBytes(16)
  counter = 0
  readonly #options: DeviceOptions
  readonly #privateKey: KeyObject
  readonly #point: { x: Buffer; y: Buffer }

  constructor(options: DeviceOptions) {
    this.#options = options
    const { privateKey, publicKey } = generateKeyPairSync('ec', { namedCurve: 'P-256' })
    const { x, y } = publicKey.export({ format: 'jwk' })
    this.#privateKey = privateKey
    this.#point = { x: Buffer.from(x!, 'base64url'), y: Buffer.from(y!, 'base64url') }
  }

  /** The body that adds it. */
  register({ ceremony, options }: Question) {
    const { x, y } = this.#point
    // RFC 9053, 7.1.1: kty EC2, alg ES256, crv P-256, the point. As CBOR (RFC 8949).
    const key = Buffer.concat([Buffer.from('a5010203262001215820', 'hex'), x, Buffer.from('225820', 'hex'), y])
    const length = Buffer.from([0, this.id.length])
    const data = this.#authenticatorData(ATTACHED, Buffer.concat([Buffer.alloc(16), length, this.id, key]))
    const attestation = Buffer.concat([
      Buffer.from('a363666d74646e6f6e656761747453746d74a068617574684461746158', 'hex'),
      Buffer.from([data.length]),
      data,
    ])
    const response = {
      clientDataJSON: this.#clientData('webauthn.create', options.challenge).toString('base64url'),
      attestationObject: attestation.toString('base64url'),
    }
    return { ceremony, answer: { ...this.#named(), response } }
  }

  /** The body that signs in. */
  signIn({ ceremony, options }: Question) {
    this.counter += 1
    const data = this.#authenticatorData(0, Buffer.alloc(0))
    const client = this.#clientData('webauthn.get', options.challenge)
    const signed = Buffer.concat([data, createHash('sha256').update(client).digest()])
    const response = {
      clientDataJSON: client.toString('base64url'),
      authenticatorData: data.toString('base64url'),
      signature: sign('sha256', signed, this.#privateKey).toString('base64url'),
    }
    return { ceremony, answer: { ...this.#named(), response } }
  }

  #named() {
    const id = this.id.toString('base64url')
    return { id, rawId: id, type: 'public-key', clientExtensionResults: {} }
  }

  #authenticatorData(flags: number, rest: Buffer): Buffer {
    const head = Buffer.alloc(5)
    head.writeUInt8(PRESENT | (this.#options.verifies === false ? 0 : VERIFIED) | flags)
    head.writeUInt32BE(this.counter, 1)
    return Buffer.concat([createHash('sha256').update(this.#options.site).digest(), head, rest])
  }

  #clientData(type: string, challenge: string): Buffer {
    return Buffer.from(JSON.stringify({ type, challenge, origin: this.#options.origin, crossOrigin: false }))
  }
}
