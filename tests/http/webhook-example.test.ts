import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { WEBHOOK_EVENTS } from '../../src/contract/webhooks.js'
import { PROJECT_ROOT } from '../../src/project-root.js'
import { makeWebhookSecret, signatureHeaders } from '../../src/services/webhooks/signature.js'

type Verify = (headers: Record<string, string>, body: string, secret: string, now?: number) => unknown

const page = readFileSync(join(PROJECT_ROOT, 'docs/webhooks.md'), 'utf8')
const folder = mkdtempSync(join(tmpdir(), 'webhook-example-'))
let verify: Verify

beforeAll(async () => {
  const [, code] = /```js\n([\s\S]*?)```/.exec(page)!
  const file = join(folder, 'verify.mjs')
  writeFileSync(file, code!)
  verify = ((await import(/* @vite-ignore */ file)) as { verify: Verify }).verify
})
afterAll(() => rmSync(folder, { recursive: true }))

const secret = makeWebhookSecret()
const now = 1_934_000_000
const message = { id: 'an-id', timestamp: now, body: '{"type":"trial","boat":"Möwe"}' }
const headers = signatureHeaders(message, [secret])

describe('the example of docs/webhooks.md', () => {
  it('takes what is sent from here', () => {
    expect(verify(headers, message.body, secret, now)).toEqual({ type: 'trial', boat: 'Möwe' })
    expect(verify(headers, message.body, secret, now + 299)).toBeDefined()
    const both = signatureHeaders(message, [makeWebhookSecret(), secret])
    expect(verify(both, message.body, secret, now)).toBeDefined()
  })

  it.each([
    ['another body', headers, message.body.replace('Möwe', 'Mowe'), now, 'not signed'],
    ['another id', { ...headers, 'webhook-id': 'other' }, message.body, now, 'not signed'],
    ['a changed time', { ...headers, 'webhook-timestamp': String(now + 1) }, message.body, now, 'not signed'],
    ['an old recording', headers, message.body, now + 301, 'too old'],
    ['one from the future', headers, message.body, now - 301, 'too old'],
    ['no time', { ...headers, 'webhook-timestamp': '' }, message.body, now, 'too old'],
    ['no signature', { ...headers, 'webhook-signature': '' }, message.body, now, 'not signed'],
    ['a short signature', { ...headers, 'webhook-signature': 'v1,AAAA' }, message.body, now, 'not signed'],
    [
      'another version',
      { ...headers, 'webhook-signature': headers['webhook-signature']!.replace('v1', 'v0') },
      message.body,
      now,
      'not signed',
    ],
  ])('refuses %s', (_, given, body, at, why) => {
    expect(() => verify(given as Record<string, string>, body, secret, at)).toThrow(why)
  })

  it('stands beside a table of all events', () => {
    const told = [...page.matchAll(/^\| `([a-z.-]+)` \|/gm)].map(([, event]) => event)
    expect(told.filter((event) => event!.includes('.'))).toEqual([...WEBHOOK_EVENTS])
  })
})
