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

const loopback = new BlockList();
loopback.addSubnet('127.0.0.0', 8, 'ipv4');
loopback.addAddress('::1', 'ipv6');

/** Whether an address is this computer's own, and reaches no network (RFC 1122, RFC 4291). */
export const isLoopback = (told: string): boolean => {
  const address = plainAddress(told);
  return loopback.check(address, isIPv6(address) ? 'ipv6' : 'ipv4');
};

const multicast = new BlockList();
multicast.addSubnet('224.0.0.0', 4, 'ipv4');
multicast.addSubnet('ff00::', 8, 'ipv6');

/** The eight groups of an IPv6 address without a zone. */
const groupsOf = (address: string): readonly number[] => {
  // The URL standard writes an address in full hexadecimal groups, whatever it is given in.
  const [before = '', after] = new URL(`http://[${address}]`).hostname.slice(1, -1).split('::');
  const [first, last] = [before, after ?? ''].map((part) => part.split(':').filter((group) => group !== ''));
  const zeros = 8 - (first?.length ?? 0) - (last?.length ?? 0);
  const groups = [
    ...(first ?? []),
    ...Array<string>(after === undefined ? 0 : zeros).fill('0'),
    ...(last ?? []),
  ];
  return groups.map((group) => Number.parseInt(group, 16));
};

/**
 * Prefixes, in groups, of IPv6 addresses that carry an IPv4 one, and the group it begins at: IPv4-compatible and -mapped
 * (RFC 4291, section 2.5.5), IPv4-translated (RFC 2765), NAT64 (RFC 6052, RFC 8215), 6to4 (RFC 3056).
 */
const carriers: readonly (readonly [prefix: readonly number[], at: number])[] = [
  [[0, 0, 0, 0, 0, 0], 6],
  [[0, 0, 0, 0, 0, 0xffff], 6],
  [[0, 0, 0, 0, 0xffff, 0], 6],
  [[0x64, 0xff9b, 0, 0, 0, 0], 6],
  [[0x64, 0xff9b, 1, 0, 0, 0], 6],
  [[0x2002], 1],
];

/**
 * An address as it would be written anywhere: without what may be written in several ways, and an IPv4 address in IPv6's
 * clothes as what it is. ::1 and :: are themselves.
 */
export const plainAddress = (address: string): string => {
  if (!isIPv6(address)) return address;
  const [bare = '', zone] = address.split('%');
  const groups = groupsOf(bare);
  const carrier = carriers.find(([prefix]) => prefix.every((group, at) => groups[at] === group));
  const [high = 0, low = 0] = carrier ? groups.slice(carrier[1]) : [];
  const isOwn = !carrier || (carrier[0].every((group) => group === 0) && high === 0 && low <= 1);
  if (!isOwn) return asAddress(high * 65536 + low);
  return `${new URL(`http://[${bare}]`).hostname.slice(1, -1)}${zone === undefined ? '' : `%${zone}`}`;
};

/**
 * What an IP address reaches, seen from a computer with these interfaces; an IPv4 address in IPv6's clothes
 * (`::ffff:224.0.0.1`, `64:ff9b::e000:1`) counts as what it is. `unspecified`: 0.0.0.0/8 and :: (RFC 1122, RFC 4291), `multicast`:
 * 224.0.0.0/4 (RFC 5771) and ff00::/8 (RFC 4291), `broadcast`: 255.255.255.255 and those of the interfaces (RFC 919).
 */
export const addressScope = (told: string, interfaces: readonly InterfaceAddress[]): AddressScope => {
  const address = plainAddress(told);
  const family = isIPv6(address) ? 'ipv6' : 'ipv4';
  if (unspecified.check(address, family)) return 'unspecified';
  if (multicast.check(address, family)) return 'multicast';
  const broadcast = new BlockList();
  for (const each of ['255.255.255.255', ...interfaces.flatMap(directedBroadcasts)]) {
    broadcast.addAddress(each, 'ipv4');
  }
  return broadcast.check(address, family) ? 'broadcast' : 'unicast';
};

/** An address by which what listens at this one is reached from this computer: itself, unless it stands for all of them. */
export const reachableAt = (told: string): string => {
  if (addressScope(told, []) !== 'unspecified') return told;
  return isIPv6(told) ? '::1' : '127.0.0.1';
};
