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
