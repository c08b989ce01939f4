import { BlockList, isIPv6 } from 'node:net';

/** What an address reaches: one device (`unicast`), many, or none in particular. */
export type AddressScope = 'unicast' | 'broadcast' | 'multicast' | 'unspecified';

/** As much of what `os.networkInterfaces()` tells as is needed here. */
export interface InterfaceAddress {
  readonly family: string;
  readonly address: string;
  readonly netmask: string;
}

const asNumber = (address: string): number =>
  address.split('.').reduce((sum, part) => sum * 256 + Number(part), 0);

const asAddress = (number: number): string => [24, 16, 8, 0].map((bits) => (number >>> bits) & 255).join('.');

/**
 * The two addresses that every device of an interface's network listens to: all ones, and the older all zeros
 * (RFC 1122, section 3.3.6). A network of one or two addresses has none (RFC 3021).
 */
const directedBroadcasts = ({ family, address, netmask }: InterfaceAddress): readonly string[] => {
  const mask = asNumber(netmask);
  if (family !== 'IPv4' || mask >= asNumber('255.255.255.254')) return [];
  const network = (asNumber(address) & mask) >>> 0;
  return [network, (network | ~mask) >>> 0].map(asAddress);
};

const unspecified = new BlockList();
unspecified.addSubnet('0.0.0.0', 8, 'ipv4');
unspecified.addAddress('::', 'ipv6');

const multicast = new BlockList();
multicast.addSubnet('224.0.0.0', 4, 'ipv4');
multicast.addSubnet('ff00::', 8, 'ipv6');

/**
 * What an IP address reaches, seen from a computer with these interfaces; an IPv4 address written as IPv6
 * (`::ffff:224.0.0.1`) counts as what it is. `unspecified`: 0.0.0.0/8 and :: (RFC 1122, RFC 4291), `multicast`:
 * 224.0.0.0/4 (RFC 5771) and ff00::/8 (RFC 4291), `broadcast`: 255.255.255.255 and those of the interfaces (RFC 919).
 */
export const addressScope = (address: string, interfaces: readonly InterfaceAddress[]): AddressScope => {
  const family = isIPv6(address) ? 'ipv6' : 'ipv4';
  if (unspecified.check(address, family)) return 'unspecified';
  if (multicast.check(address, family)) return 'multicast';
  const broadcast = new BlockList();
  for (const each of ['255.255.255.255', ...interfaces.flatMap(directedBroadcasts)]) {
    broadcast.addAddress(each, 'ipv4');
  }
  return broadcast.check(address, family) ? 'broadcast' : 'unicast';
};
