import { BlockList, isIP } from 'node:net'

/**
 * Addresses that lead into the service's own machine or network, or nowhere: whoever may name an address to send to must not reach
 * them through the service.
 *
 * Source: IANA IPv4 and IPv6 Special-Purpose Address Registries (RFC 6890 and its successors), multicast by RFC 5771 and RFC 4291.
 */
const NOT_PUBLIC_V4 = [
  ['0.0.0.0', 8, 'this network'],
  ['10.0.0.0', 8, 'private use'],
  ['100.64.0.0', 10, 'shared address space of providers'],
  ['127.0.0.0', 8, 'loopback'],
  ['169.254.0.0', 16, 'link local: clouds tell secrets of a machine there'],
  ['172.16.0.0', 12, 'private use'],
  ['192.0.0.0', 24, 'protocol assignments'],
  ['192.0.2.0', 24, 'documentation'],
  ['192.88.99.0', 24, '6to4 relays'],
  ['192.168.0.0', 16, 'private use'],
  ['198.18.0.0', 15, 'benchmarks'],
  ['198.51.100.0', 24, 'documentation'],
  ['203.0.113.0', 24, 'documentation'],
  ['224.0.0.0', 4, 'multicast'],
  ['240.0.0.0', 4, 'reserved, and broadcast'],
] as const
/** The only space that is given out to the public network (RFC 4291, 2.4): what lies outside is refused as a whole. */
const PUBLIC_V6 = ['2000::', 3] as const
const NOT_PUBLIC_V6 = [
  ['2001::', 23, 'protocol assignments, with Teredo'],
  ['2001:db8::', 32, 'documentation'],
  ['2002::', 16, '6to4: holds an address of the older kind'],
  ['3fff::', 20, 'documentation'],
] as const
const NAMED_RANGES: Readonly<Record<string, readonly string[]>> = {
  loopback: ['127.0.0.0/8', '::1/128'],
  linklocal: ['169.254.0.0/16', 'fe80::/10'],
  uniquelocal: ['10.0.0.0/8', '172.16.0.0/12', '192.168.0.0/16', 'fc00::/7'],
}
const BITS = { ipv4: 32, ipv6: 128 } as const
/** An address of the older kind within the newer (RFC 4291, 2.5.5.2). */
const MAPPED = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i

const publicV6 = new BlockList()
publicV6.addSubnet(...PUBLIC_V6, 'ipv6')
const notPublic = new BlockList()
for (const [net, bits] of NOT_PUBLIC_V4) notPublic.addSubnet(net, bits, 'ipv4')
for (const [net, bits] of NOT_PUBLIC_V6) notPublic.addSubnet(net, bits, 'ipv6')

/** Which addresses may be sent to: public ones, and those that whoever runs the service has named. */
export class AddressRules {
  readonly #named = new BlockList()

  /** @param ranges addresses, ranges such as 192.168.7.0/24, or loopback, linklocal, uniquelocal */
  constructor(ranges: readonly string[]) {
    for (const range of ranges.flatMap((each) => NAMED_RANGES[each] ?? [each])) {
      const [net = '', bits] = range.split('/')
      const family = familyOf(net)
      if (family === undefined) throw new Error(`${range} is no address and no range of addresses`)
      this.#named.addSubnet(net, bits === undefined ? BITS[family] : Number(bits), family)
    }
  }

  /** Whether it was named: then it may be reached without encryption too. */
  isNamed(address: string): boolean {
    const bare = unmapped(address)
    const family = familyOf(bare)
    return family !== undefined && this.#named.check(bare, family)
  }

  allows(address: string): boolean {
    return this.isNamed(address) || isPublic(address)
  }
}

/** Whether an address belongs to the public network. */
export function isPublic(address: string): boolean {
  const bare = unmapped(address)
  const family = familyOf(bare)
  if (family === undefined || notPublic.check(bare, family)) return false
  return family === 'ipv4' || publicV6.check(bare, 'ipv6')
}

function familyOf(address: string): 'ipv4' | 'ipv6' | undefined {
  return ({ 4: 'ipv4', 6: 'ipv6' } as const)[isIP(address)]
}

/** An address may be written in several ways: URLs spell the mapped ones in hexadecimal. */
function unmapped(address: string): string {
  if (isIP(address) !== 6) return address
  const canonical = new URL(`http://[${address.split('%')[0]}]`).hostname.slice(1, -1)
  const hex = /^::ffff:([\da-f]{1,4}):([\da-f]{1,4})$/.exec(canonical)
  if (hex === null) return MAPPED.exec(canonical)?.[1] ?? canonical
  const [high, low] = [Number.parseInt(hex[1]!, 16), Number.parseInt(hex[2]!, 16)]
  return [high >> 8, high & 255, low >> 8, low & 255].join('.')
}
