import { createECDH, createPublicKey, verify } from 'node:crypto'
import { createRequire } from 'node:module'
import { describe, expect, it } from 'vitest'
import { makePushKeys, type PushIdentity, pushRequest } from '../../src/outside/push/push-message.js'
import { browserOf, decryptPush } from './decrypt-push.js'

// RFC 8291, appendix A: the intermediate values of its example.
const EXAMPLE = {
  plaintext: 'When I grow up, I want to be a watermelon',
  senderPrivate: 'yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw',
  senderPublic: 'BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A8',
  browserPrivate: 'q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94',
  browserPublic: 'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4',
  auth: 'BTBZMqHH6r4Tts7J_aSIgg',
  salt: 'DGv6ra1nlYgDCS1FRnbzlw',
  message:
    'DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl' +
    '7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN',
}
const browser = browserOf(EXAMPLE.browserPrivate, EXAMPLE.auth)

interface Coding {
  encrypt(text: Buffer, options: object): Buffer
}
/** The library behind web-push that encrypts: the salt and the key that it would draw can be given. */
const coding = createRequire(createRequire(import.meta.url).resolve('web-push'))('http_ece') as Coding

describe('encryption', () => {
  it('gives the bytes of the example of RFC 8291 from its keys and salt', () => {
    const sender = createECDH('prime256v1')
    sender.setPrivateKey(Buffer.from(EXAMPLE.senderPrivate, 'base64url'))
    expect(sender.getPublicKey('base64url')).toBe(EXAMPLE.senderPublic)
    const message = coding.encrypt(Buffer.from(EXAMPLE.plaintext), {
      version: 'aes128gcm',
      privateKey: sender,
      dh: EXAMPLE.browserPublic,
      authSecret: EXAMPLE.auth,
      salt: EXAMPLE.salt,
    })
    expect(message.toString('base64url')).toBe(EXAMPLE.message)
  })

  it('of the example is undone by the browser of these tests', () => {
    expect(browser.keys.getPublicKey('base64url')).toBe(EXAMPLE.browserPublic)
    expect(decryptPush(Buffer.from(EXAMPLE.message, 'base64url'), browser)).toBe(EXAMPLE.plaintext)
  })
})

describe('a push message', () => {
  const identity: PushIdentity = { ...makePushKeys(), subject: 'mailto:yard@example.org' }
  const target = {
    endpoint: 'https://push.example.org:8443/JzLQ3raZJfFBR0aqvOMsLrt54w4rJUsV',
    p256dh: EXAMPLE.browserPublic,
    auth: EXAMPLE.auth,
  }
  const content = { title: 'Möwe: Anode fällig', body: 'Welle, Zink 🛥', path: '/boats/M', tag: 'boat-1', lang: 'de' }

  it('is read by the browser that it is for, and by no other', () => {
    const { body } = pushRequest(target, content, identity)
    expect(JSON.parse(decryptPush(body as Uint8Array, browser))).toEqual(content)
    const other = createECDH('prime256v1')
    other.generateKeys()
    expect(() => decryptPush(body as Uint8Array, { keys: other, auth: browser.auth })).toThrow()
  })

  it('has the headers of RFC 8030 and 8291', () => {
    const { headers, url } = pushRequest(target, content, identity)
    expect(url).toBe(target.endpoint)
    expect(headers).toMatchObject({ ttl: '604800', 'content-encoding': 'aes128gcm' })
    expect(headers.topic).toMatch(/^[\w-]{1,32}$/)
    expect(pushRequest(target, { ...content, body: 'another' }, identity).headers.topic).toBe(headers.topic)
  })

  // RFC 8292, 2 and 3: a JWT (ES256) with aud, exp within a day and sub, and the key that it is signed by.
  it('is signed as ours', () => {
    const { headers } = pushRequest(target, content, identity)
    const [, token, key] = /^vapid t=([\w-]+\.[\w-]+\.[\w-]+), k=([\w-]+)$/.exec(headers.authorization!)!
    expect(key).toBe(identity.publicKey)
    const [head, claims, signature] = token!.split('.')
    const read = (part: string) => JSON.parse(Buffer.from(part, 'base64url').toString('utf8'))
    expect(read(head!)).toEqual({ typ: 'JWT', alg: 'ES256' })
    const { aud, exp, sub } = read(claims!)
    expect([aud, sub]).toEqual(['https://push.example.org:8443', 'mailto:yard@example.org'])
    const aheadS = exp - Date.now() / 1000
    expect(aheadS).toBeGreaterThan(60)
    expect(aheadS).toBeLessThanOrEqual(24 * 60 * 60)
    const point = Buffer.from(identity.publicKey, 'base64url')
    const jwk = {
      kty: 'EC',
      crv: 'P-256',
      x: point.subarray(1, 33).toString('base64url'),
      y: point.subarray(33).toString('base64url'),
    }
    const publicKey = createPublicKey({ key: jwk, format: 'jwk' })
    const signed = Buffer.from(`${head}.${claims}`)
    const given = Buffer.from(signature!, 'base64url')
    expect(verify('sha256', signed, { key: publicKey, dsaEncoding: 'ieee-p1363' }, given)).toBe(true)
    expect(verify('sha256', Buffer.from(`${signed}x`), { key: publicKey, dsaEncoding: 'ieee-p1363' }, given)).toBe(
      false,
    )
  })

  // RFC 8030, 7.2: a push service takes 4096 bytes at least, and may refuse more.
  it('is short enough, however long its words are', () => {
    const long = { ...content, title: '海'.repeat(5_000), body: '🛥'.repeat(5_000) }
    const { body } = pushRequest(target, long, identity)
    expect(body.length).toBeLessThanOrEqual(4096)
    const read = JSON.parse(decryptPush(body as Uint8Array, browser))
    expect(read.body).toMatch(/^🛥+…$/u)
  })
})
