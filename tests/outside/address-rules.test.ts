import { describe, expect, it } from 'vitest'
import { AddressRules, isPublic } from '../../src/outside/web/address-rules.js'

describe('an address', () => {
  // IANA IPv4 and IPv6 Special-Purpose Address Registries: one of each range, its ends, and ways to write an address otherwise.
  it.each([
    '0.0.0.0',
    '10.0.0.1',
    '10.255.255.255',
    '100.64.0.1',
    '127.0.0.1',
    '127.255.255.254',
    '169.254.169.254',
    '172.16.0.1',
    '172.31.255.255',
    '192.0.0.8',
    '192.0.2.1',
    '192.168.0.1',
    '198.18.0.1',
    '198.19.255.255',
    '198.51.100.7',
    '203.0.113.9',
    '224.0.0.1',
    '255.255.255.255',
    '::',
    '::1',
    '::127.0.0.1',
    '::ffff:127.0.0.1',
    '::ffff:7f00:1',
    '0:0:0:0:0:ffff:192.168.1.1',
    '64:ff9b::7f00:1',
    '64:ff9b:1::1',
    '100::1',
    '2001::1',
    '2001:db8::1',
    '2002:7f00:1::1',
    '3fff::1',
    'fc00::1',
    'fd12:3456::1',
    'fe80::1',
    'fe80::1%eth0',
    'fec0::1',
    'ff02::1',
    'not an address',
  ])('%s is not in the public network', (address) => {
    expect(isPublic(address)).toBe(false)
    expect(new AddressRules([]).allows(address)).toBe(false)
  })

  it.each([
    '9.255.255.255',
    '11.0.0.1',
    '100.63.255.255',
    '100.128.0.1',
    '172.15.255.255',
    '172.32.0.1',
    '192.169.0.1',
    '223.255.255.254',
    '2606:4700::1',
    '2a00:1450::1',
    '::ffff:9.9.9.9',
  ])('%s is', (address) => {
    expect(isPublic(address)).toBe(true)
  })
})

describe('rules', () => {
  it('let in what was named, and no more', () => {
    const rules = new AddressRules(['192.168.7.0/24', '10.0.0.2', 'fd00:7::/64'])
    const allowed = ['192.168.7.1', '192.168.7.255', '::ffff:192.168.7.9', '10.0.0.2', 'fd00:7::9', '9.9.9.9']
    const refused = ['192.168.8.1', '10.0.0.3', 'fd00:8::1', '127.0.0.1']
    expect(allowed.filter((address) => !rules.allows(address))).toEqual([])
    expect(refused.filter((address) => rules.allows(address))).toEqual([])
    expect(rules.isNamed('9.9.9.9')).toBe(false)
    expect(rules.isNamed('10.0.0.2')).toBe(true)
  })

  it('know names of ranges', () => {
    const rules = new AddressRules(['loopback'])
    expect(['127.0.0.1', '::1', '10.0.0.1'].map((address) => rules.allows(address))).toEqual([true, true, false])
  })

  it('refuse what is no range', () => {
    expect(() => new AddressRules(['the yard'])).toThrow('the yard is no address')
  })
})
