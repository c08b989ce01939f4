import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { framingOf } from '../../osc/framing/registry.js';
import { fail } from '../../units/result.js';
import { lookUp } from './destination.js';
import { serveTcp } from './serve-tcp.js';
import { serveUdp } from './serve-udp.js';
import type { ServeOptions, Server } from './server.js';
import { networkWords, placeText } from './unreachable.js';

export type { PacketListener, ServeOptions, Server } from './server.js';

const remedies: Readonly<Record<string, string>> = {
  EADDRINUSE: 'another program has it. Close that, or give another port; 0 takes any that is free',
  EADDRNOTAVAIL: 'the address is none of this computer. Give one that is, such as 127.0.0.1',
  EACCES: 'this user may not have it. Give a port from 1024 up',
};

const unavailable = (place: string, why: string): Problem =>
  problem('port-unavailable', '', `Cannot listen at ${place}: ${why}.`);

/** Listens for OSC packets. Problems: `port-unavailable`, `host-unknown`. */
export const serve = async ({ kind, port, bind }: ServeOptions): Promise<Outcome<Server>> => {
  if (!Number.isInteger(port) || port < 0 || port > 65_535) {
    return fail([unavailable(`${bind}:${port}`, 'a port is a whole number from 0 to 65535')]);
  }
  const found = await lookUp(bind);
  if (!found.ok) return found;
  const served =
    kind === 'udp' ? await serveUdp(found.value, port) : await serveTcp(framingOf(kind), found.value, port);
  if (served.ok) return served;
  const { code = '' } = served.error as NodeJS.ErrnoException;
  return fail([unavailable(placeText(found.value, port), remedies[code] ?? networkWords(served.error))]);
};
