import { Webhook } from 'standardwebhooks'
import { describe, expect, it } from 'vitest'
import { hmacSha256, makeWebhookSecret, signatureHeaders } from '../../../src/services/webhooks/signature.js'

const repeated = (byte: number, times: number) => Buffer.alloc(times, byte)

describe('HMAC-SHA-256', () => {
  // RFC 4231, 4.2 to 4.5, 4.7 and 4.8: key, data, HMAC-SHA-256.
  it.each([
    ['1', repeated(0x0b, 20), 'Hi There', 'b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7'],
    [
      '2',
      Buffer.from('Jefe'),
      'what do ya want for nothing?',
      '5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843',
    ],
    ['3', repeated(0xaa, 20), repeated(0xdd, 50), '773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe'],
    [
      '4',
      Buffer.from(Array.from({ length: 25 }, (_, index) => index + 1)),
      repeated(0xcd, 50),
      '82558a389a443c0ea4cc819899f2083a85f0faa3e578f8077a2e3ff46729665b',
    ],
    [
      '6',
      repeated(0xaa, 131),
      'Test Using Larger Than Block-Size Key - Hash Key First',
      '60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54',
    ],
    [
      '7',
      repeated(0xaa, 131),
      'This is a test using a larger than block-size key and a larger than block-size data. ' +
        'The key needs to be hashed before being used by the HMAC algorithm.',
      '9b09ffa71b942fcb27635fbcd5b0e944bfdc63644f0713938a7f51535c3a35e2',
    ],
  ])('gives what RFC 4231 prints for case %s', (_, key, data, expected) => {
    expect(hmacSha256(key, data).toString('hex')).toBe(expected)
  })
})

describe('a signature', () => {
  const message = (timestamp: number) => ({ id: '0c0d1f52-6d8e', timestamp, body: '{"boat":"Möwe","dash":"–"}' })
  const now = () => Math.floor(Date.now() / 1000)

  // An independent library of the same specification, npm standardwebhooks 1.0.0.
  it('is what a library of the specification expects', () => {
    const secret = makeWebhookSecret()
    const sent = message(now())
    expect(new Webhook(secret).verify(sent.body, signatureHeaders(sent, [secret]))).toEqual(JSON.parse(sent.body))
  })

  it('is refused for another body, id or time, and for another secret', () => {
    const secret = makeWebhookSecret()
    const sent = message(now())
    const headers = signatureHeaders(sent, [secret])
    const verify = (body: string, changed: Record<string, string>) => () =>
      new Webhook(secret).verify(body, { ...headers, ...changed })
    expect(verify(sent.body, {})).not.toThrow()
    expect(verify(`${sent.body} `, {})).toThrow('No matching signature')
    expect(verify(sent.body, { 'webhook-id': 'other' })).toThrow('No matching signature')
    expect(verify(sent.body, { 'webhook-timestamp': String(sent.timestamp - 1) })).toThrow('No matching signature')
    expect(() => new Webhook(makeWebhookSecret()).verify(sent.body, headers)).toThrow('No matching signature')
  })

  it('is refused when it is older than five minutes', () => {
    const secret = makeWebhookSecret()
    const sent = message(now() - 301)
    expect(() => new Webhook(secret).verify(sent.body, signatureHeaders(sent, [secret]))).toThrow('too old')
  })

  it('is made with both secrets while one takes over from the other', () => {
    const [older, newer] = [makeWebhookSecret(), makeWebhookSecret()]
    const sent = message(now())
    const headers = signatureHeaders(sent, [newer, older])
    for (const secret of [older, newer]) expect(() => new Webhook(secret).verify(sent.body, headers)).not.toThrow()
  })
})
