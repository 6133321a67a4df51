import { describe, expect, it } from 'vitest'
import { readConfig } from '../src/config.js'

describe('TRUST_PROXY', () => {
  it.each([
    [undefined, undefined],
    ['', undefined],
    ['1', 1],
    ['10.0.0.2', ['10.0.0.2']],
    ['loopback, 192.168.7.0/24, 2001:db8::/32', ['loopback', '192.168.7.0/24', '2001:db8::/32']],
  ])('%j is read as %j', (text, trusted) => {
    expect(readConfig({ TRUST_PROXY: text }).trustProxy).toEqual(trusted)
  })

  it.each(['yes', 'true', '10.0.0', '10.0.0.0/33', '-1', '10.0.0.2,,'])('%j is refused', (text) => {
    expect(() => readConfig({ TRUST_PROXY: text })).toThrow(/TRUST_PROXY must be/)
  })
})

describe('WEBHOOK_NETWORKS', () => {
  it.each([
    [undefined, []],
    ['', []],
    ['loopback, 192.168.7.0/24,10.0.0.2', ['loopback', '192.168.7.0/24', '10.0.0.2']],
  ])('%j is read as %j', (text, networks) => {
    expect(readConfig({ WEBHOOK_NETWORKS: text }).webhookNetworks).toEqual(networks)
  })

  it.each(['all', '1', '10.0.0.0/33', '10.0.0.2,,', 'office.example.org'])('%j is refused', (text) => {
    expect(() => readConfig({ WEBHOOK_NETWORKS: text })).toThrow(/WEBHOOK_NETWORKS must be/)
  })
})

describe('the keys of web push', () => {
  const pair = { VAPID_PUBLIC_KEY: 'B'.repeat(87), VAPID_PRIVATE_KEY: 'k'.repeat(43) }

  it('are none unless given, and then both', () => {
    expect(readConfig({}).push.keys).toBeUndefined()
    expect(readConfig(pair).push.keys).toEqual({ publicKey: 'B'.repeat(87), privateKey: 'k'.repeat(43) })
    expect(() => readConfig({ VAPID_PUBLIC_KEY: pair.VAPID_PUBLIC_KEY })).toThrow('go together')
    expect(() => readConfig({ ...pair, VAPID_PRIVATE_KEY: 'short' })).toThrow('VAPID_PRIVATE_KEY must be')
  })

  it.each([
    [{}, 'mailto:anode-ledger@localhost'],
    [{ MAIL_FROM: 'The yard <yard@example.org>' }, 'mailto:yard@example.org'],
    [{ MAIL_FROM: 'yard@example.org', VAPID_SUBJECT: 'https://yard.example.org' }, 'https://yard.example.org'],
  ])('with %j have the subject %s', (environment, subject) => {
    expect(readConfig(environment).push.subject).toBe(subject)
  })
})

describe('PROCESS', () => {
  const shared = {
    DATABASE_URL: 'postgres://ledger@db/ledger',
    SESSION_SECRET: 'one secret for all processes of it',
    PUBLIC_URL: 'https://anodes.example.org',
  }

  it('is both unless said', () => {
    expect(readConfig({}).process).toBe('both')
  })

  it.each(['server', 'worker'])('%s is taken with what all of them share', (kind) => {
    expect(readConfig({ ...shared, PROCESS: kind }).process).toBe(kind)
  })

  it.each(Object.keys(shared))('apart needs %s', (name) => {
    for (const kind of ['server', 'worker'])
      expect(() => readConfig({ ...shared, PROCESS: kind, [name]: '' })).toThrow(`PROCESS=${kind} needs ${name}: `)
  })

  it('is one of three words', () => {
    expect(() => readConfig({ ...shared, PROCESS: 'web' })).toThrow('PROCESS')
  })
})

describe('the most connections', () => {
  it('are 18 in three pools unless said', () => {
    expect(readConfig({}).connections).toEqual({ service: 10, across: 4, own: 4 })
    const fewer = { SERVICE_CONNECTIONS: '3', ACROSS_CONNECTIONS: '1', OWN_CONNECTIONS: '2' }
    expect(readConfig(fewer).connections).toEqual({ service: 3, across: 1, own: 2 })
  })

  it.each([
    ['SERVICE_CONNECTIONS', '0'],
    ['ACROSS_CONNECTIONS', 'many'],
    ['OWN_CONNECTIONS', '1'],
    ['SERVICE_CONNECTIONS', '2.5'],
  ])('%s is not %s', (name, value) => {
    expect(() => readConfig({ [name]: value })).toThrow(name)
  })
})
