import { describe, expect, it } from 'vitest';
import {
  type AddressScope,
  addressScope,
  type InterfaceAddress,
} from '../../../src/node/network/address-scope.js';

const ipv4 = (address: string, netmask: string): InterfaceAddress => ({ family: 'IPv4', address, netmask });

const interfaces: readonly InterfaceAddress[] = [
  ipv4('127.0.0.1', '255.0.0.0'),
  ipv4('192.0.2.70', '255.255.255.0'),
  ipv4('198.51.100.70', '255.255.255.192'),
  ipv4('203.0.113.10', '255.255.255.254'),
  ipv4('203.0.113.99', '255.255.255.255'),
  { family: 'IPv6', address: '2001:db8::7', netmask: 'ffff:ffff:ffff:ffff::' },
];

describe('what an address reaches', () => {
  it.each<[string, AddressScope, string]>([
    ['192.0.2.7', 'unicast', 'RFC 5737, an address like any'],
    ['127.0.0.1', 'unicast', 'RFC 1122, 3.2.1.3 (g)'],
    ['2001:db8::9', 'unicast', 'RFC 3849, an address like any'],
    ['::1', 'unicast', 'RFC 4291, 2.5.3'],
    ['fe80::1%eth0', 'unicast', 'RFC 4007, 11'],
    ['255.255.255.255', 'broadcast', 'RFC 919, 7'],
    ['127.255.255.255', 'broadcast', 'RFC 919, 7: all ones on an interface'],
    ['192.0.2.255', 'broadcast', 'RFC 919, 7: /24'],
    ['192.0.2.0', 'broadcast', 'RFC 1122, 3.3.6: the older form'],
    ['198.51.100.127', 'broadcast', 'RFC 922, 7: /26 from .64 to .127'],
    ['198.51.100.64', 'broadcast', 'RFC 1122, 3.3.6: the older form of /26'],
    ['198.51.100.63', 'unicast', 'RFC 922: below that /26'],
    ['198.51.100.255', 'unicast', 'RFC 922: of another network, which this computer cannot know'],
    ['203.0.113.11', 'unicast', 'RFC 3021: a /31 has no broadcast'],
    ['203.0.113.10', 'unicast', 'RFC 3021'],
    ['203.0.113.99', 'unicast', 'a /32 is one device'],
    ['224.0.0.1', 'multicast', 'RFC 5771, 3'],
    ['239.255.255.255', 'multicast', 'RFC 5771, 3: the last'],
    ['223.255.255.255', 'unicast', 'RFC 5771: just below'],
    ['240.0.0.1', 'unicast', 'RFC 5771: just above'],
    ['ff02::1', 'multicast', 'RFC 4291, 2.7'],
    ['ff02::1%eth0', 'multicast', 'RFC 4291, 2.7, with its zone'],
    ['ff00::', 'multicast', 'RFC 4291, 2.7: the first'],
    ['feff:ffff::1', 'unicast', 'RFC 4291, 2.7: just below'],
    ['0.0.0.0', 'unspecified', 'RFC 1122, 3.2.1.3 (a)'],
    ['0.255.255.255', 'unspecified', 'RFC 1122, 3.2.1.3 (b)'],
    ['1.0.0.0', 'unicast', 'RFC 1122: just above'],
    ['::', 'unspecified', 'RFC 4291, 2.5.2'],
    ['0:0:0:0:0:0:0:0', 'unspecified', 'RFC 4291, 2.5.2'],
    ['::ffff:192.0.2.7', 'unicast', 'RFC 4291, 2.5.5.2'],
    ['::ffff:192.0.2.255', 'broadcast', 'RFC 4291, 2.5.5.2'],
    ['::ffff:255.255.255.255', 'broadcast', 'RFC 4291, 2.5.5.2'],
    ['::FFFF:FFFF:FFFF', 'broadcast', 'RFC 4291, 2.5.5.2, in hexadecimal'],
    ['::ffff:224.0.0.1', 'multicast', 'RFC 4291, 2.5.5.2'],
    ['::ffff:e000:1', 'multicast', 'RFC 4291, 2.5.5.2, in hexadecimal'],
    ['0:0:0:0:0:ffff:0.0.0.0', 'unspecified', 'RFC 4291, 2.5.5.2'],
    ['::1', 'unicast', 'RFC 4291, 2.5.3'],
    ['::e000:1', 'multicast', 'RFC 4291, 2.5.5.1'],
    ['::239.1.2.3', 'multicast', 'RFC 4291, 2.5.5.1'],
    ['::c000:207', 'unicast', 'RFC 4291, 2.5.5.1'],
    ['::ffff:0:e000:1', 'multicast', 'RFC 2765, 2.1'],
    ['64:ff9b::e000:1', 'multicast', 'RFC 6052, 2.1'],
    ['64:ff9b::192.0.2.255', 'broadcast', 'RFC 6052, 2.1'],
    ['64:ff9b::192.0.2.7', 'unicast', 'RFC 6052, 2.1'],
    ['64:ff9b:1::224.0.0.1', 'multicast', 'RFC 8215, 3'],
    ['2002:e000:1::', 'multicast', 'RFC 3056, 2'],
    ['2002:ffff:ffff::1', 'broadcast', 'RFC 3056, 2'],
    ['2002:c000:207::1', 'unicast', 'RFC 3056, 2'],
    ['2001:db8::e000:1', 'unicast', 'RFC 3849: carries no IPv4 address'],
  ])('%s: %s (%s)', (address, reach) => {
    expect(addressScope(address, interfaces)).toBe(reach);
  });

  it('depends on the interfaces there are', () => {
    expect(addressScope('192.0.2.255', [])).toBe('unicast');
    expect(addressScope('192.0.2.255', [ipv4('192.0.2.1', '255.255.254.0')])).toBe('unicast');
    expect(addressScope('192.0.3.255', [ipv4('192.0.2.1', '255.255.254.0')])).toBe('broadcast');
  });
});
