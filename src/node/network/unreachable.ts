import { isIPv6 } from 'node:net';
import { type Problem, problem } from '../../model/problem.js';
import type { OscTransport } from '../../model/target.js';

const transportWords: Readonly<Record<OscTransport, string>> = {
  udp: 'UDP',
  'tcp-slip': 'TCP with SLIP',
  'tcp-length-prefix': 'TCP with length prefixes',
};

/** `192.0.2.7:9000`, `[2001:db8::7]:9000`. */
export const placeText = (address: string, port: number): string =>
  `${isIPv6(address) ? `[${address}]` : address}:${port}`;

/** `192.0.2.7:9000 by UDP`. */
export const destinationText = (kind: OscTransport, address: string, port: number): string =>
  `${placeText(address, port)} by ${transportWords[kind]}`;

const words: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'the connection was refused, so nothing listens there',
  ECONNRESET: 'the connection was reset by the other side',
  ECONNABORTED: 'the connection was broken off',
  EPIPE: 'the other side has closed the connection',
  ETIMEDOUT: 'it timed out',
  EHOSTUNREACH: 'there is no route to that address, or nobody has it',
  ENETUNREACH: 'there is no route to that network',
  EHOSTDOWN: 'the host is down',
  ENETDOWN: 'the network is down',
  EADDRNOTAVAIL: 'this computer has no address to send from',
  EACCES: 'this computer does not permit it',
  EPERM: 'this computer does not permit it, as a firewall may not',
  EMSGSIZE: 'the packet is too large for a datagram there',
  EINVAL: 'this computer cannot send there',
};

/** What the operating system said, in words; a code nobody knows stays as it is. */
export const networkWords = (error: Error): string => {
  const { code } = error as NodeJS.ErrnoException;
  return code === undefined ? error.message : (words[code] ?? `the system says ${code}`);
};

/** That a desk cannot be reached: where it was looked for, what came of it (half a sentence), and what to check. */
export const unreachable = (destination: string, came: string): Problem =>
  problem(
    'desk-unreachable',
    '',
    `The desk cannot be reached at ${destination}: ${came}. Check that the desk is on, that OSC is switched on there, the address and the port, and that this computer is in the same network.`,
  );
