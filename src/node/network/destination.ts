import { lookup } from 'node:dns/promises';
import { isIP, isIPv6, SocketAddress } from 'node:net';
import { networkInterfaces } from 'node:os';
import { type Outcome, problem } from '../../model/problem.js';
import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import { type AddressScope, addressScope } from './address-scope.js';

export interface Destination {
  /** A name or an IP address; of an IPv6 address without its brackets. */
  readonly host: string;
  /** Null where none was given. */
  readonly port: number | null;
}

const forms = 'Write a name or an address, and a port where needed: 192.0.2.7:9000, [2001:db8::7]:9000.';

/** Parts of letters, digits, hyphens and underscores, with dots between (RFC 1123, and letters of any script). */
const hostName = /^[\p{L}\p{M}\p{N}_-]{1,63}(?:\.[\p{L}\p{M}\p{N}_-]{1,63})*\.?$/u;

/** The most a name may have (RFC 1123, section 2.1). */
const longestName = 255;

const isHost = (host: string): boolean =>
  isIP(host) !== 0 || (host.length <= longestName && hostName.test(host));

const unreadable = (text: string, why: string): Result<never, string> =>
  fail(`${quote(text)} says no place in a network: ${why}. ${forms}`);

const withPort = (text: string, host: string, digits: string | undefined): Result<Destination, string> => {
  if (!isHost(host)) return unreadable(text, `${quote(host)} is no name and no address`);
  if (digits === undefined) return ok({ host, port: null });
  const port = /^[0-9]{1,5}$/.test(digits) ? Number(digits) : 0;
  return port >= 1 && port <= 65_535
    ? ok({ host, port })
    : unreadable(text, `${quote(digits)} is no port, which is a whole number from 1 to 65535`);
};

/** Reads `HOST`, `HOST:PORT`, `[::1]:9000` or `::1`. The error is a sentence. */
export const parseDestination = (text: string): Result<Destination, string> => {
  if (isIPv6(text)) return ok({ host: text, port: null });
  const bracketed = /^\[([^\]]*)\](?::(.*))?$/s.exec(text);
  if (bracketed) {
    const [, host = '', digits] = bracketed;
    return isIPv6(host)
      ? withPort(text, host, digits)
      : unreadable(text, `${quote(host)} in brackets is no IPv6 address`);
  }
  const colon = text.indexOf(':');
  return colon < 0
    ? withPort(text, text, undefined)
    : withPort(text, text.slice(0, colon), text.slice(colon + 1));
};

const scopeWords: Readonly<Record<Exclude<AddressScope, 'unicast'>, string>> = {
  broadcast: 'is a broadcast address: every device in the network would take the messages',
  multicast: 'is a multicast address: any number of devices may take the messages',
  unspecified: 'is no device in particular',
};

/** What an IP address reaches, seen from this computer. */
export const addressScopeFromHere = (address: string): AddressScope =>
  addressScope(
    address,
    Object.values(networkInterfaces()).flatMap((each) => each ?? []),
  );

/** Refuses an address that is not one device's, unless that is allowed. Problem: `destination-refused`. */
export const refuseMany = (address: string, allowBroadcast: boolean): Outcome<void> => {
  const reach = addressScopeFromHere(address);
  if (reach === 'unicast' || allowBroadcast) return ok(undefined);
  const told = `${address} ${scopeWords[reach]}. Nothing was sent. Give one desk's own address, or allow this with allowBroadcast.`;
  return fail([problem('destination-refused', '', told)]);
};

const lookUpWords: Readonly<Record<string, string>> = {
  ENOTFOUND: 'no such name is known',
  EAI_AGAIN: 'the name server does not answer',
  EAI_NODATA: 'the name has no address',
};

/** An address as everybody writes it (RFC 5952), and as IPv4 where it is one in the clothes of IPv6. */
const oneForm = (address: string): string => {
  // What goes only for one network card stays as it is.
  if (!isIPv6(address) || address.includes('%')) return address;
  const written = new SocketAddress({ address, family: 'ipv6' }).address;
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/.exec(written);
  return mapped?.[1] ?? written;
};

/**
 * One address of a name; of several an IPv4 one, which is what desks listen to (common practice, no source).
 * Problems: `destination-unreadable`, `host-unknown`.
 */
export const lookUp = async (host: string): Promise<Outcome<string>> => {
  if (!isHost(host)) {
    const told = `${quote(host)} is no name and no address of a device.`;
    return fail([problem('destination-unreadable', '', told)]);
  }
  try {
    const found = await lookup(host, { all: true });
    const [chosen] = [...found].sort((a, b) => a.family - b.family);
    if (chosen) return ok(oneForm(chosen.address));
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    const why = lookUpWords[code] ?? code;
    const told = `${quote(host)} cannot be looked up: ${why}. Check how it is written, or give the address in numbers.`;
    return fail([problem('host-unknown', '', told)]);
  }
  return fail([problem('host-unknown', '', `${quote(host)} has no address. Give the address in numbers.`)]);
};

/**
 * The one IP address to send to. Problems: `destination-unreadable`, `host-unknown`, and `destination-refused` for
 * addresses that are not one device's, which `allowBroadcast` permits.
 */
export const resolveDestination = async (
  host: string,
  { allowBroadcast = false }: { readonly allowBroadcast?: boolean } = {},
): Promise<Outcome<string>> => {
  const found = await lookUp(host);
  if (!found.ok) return found;
  const allowed = refuseMany(found.value, allowBroadcast);
  return allowed.ok ? found : allowed;
};
