import { wrap } from '../../layout/wrap.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { OscTransport, Target } from '../../model/target.js';
import { onInterrupt } from '../../node/interrupts.js';
import { isLoopback, reachableAt } from '../../node/network/address-scope.js';
import { placeText } from '../../node/network/unreachable.js';
import { anySeed, startStandin } from '../../node/standin/start-standin.js';
import { loadDesk } from '../../node/targets.js';
import { oscOf } from '../../osc/address.js';
import type { StandinOutputs } from '../../standin/address-map.js';
import type { Counts, StandinEvent } from '../../standin/events.js';
import { fail, ok } from '../../units/result.js';
import { commandLine } from '../words/copyable.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { eventJson, eventLines } from './event-lines.js';
import { loadOutputs } from './load-outputs.js';
import { loadState } from './load-state.js';

export interface StandinFlags {
  readonly target: string;
  readonly transport?: OscTransport;
  readonly port?: number;
  readonly bind: string;
  readonly rig?: string;
  readonly state?: string;
  readonly scatter?: boolean;
  readonly fault: readonly string[];
  readonly seed?: number;
  readonly verbose?: boolean;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

/** Where to listen: as asked for, else as the target says. */
const placeOf = (options: StandinFlags, target: Target) => {
  const reached = oscOf(target);
  if (!reached.ok) {
    const hint = 'To rehearse, take a shipped target that has them, as --target log-179.';
    return fail(reached.error.map((each) => ({ ...each, message: `${each.message} ${hint}` })));
  }
  const osc = reached.value;
  const kind = options.transport ?? osc.transports[0]?.kind ?? 'udp';
  const listed = osc.transports.find((each) => each.kind === kind);
  return ok({ kind, port: options.port ?? listed?.port ?? 0 });
};

const idle = ({ seed, scatter, fault }: StandinFlags): boolean =>
  seed !== undefined && scatter !== true && fault.length === 0;

const times = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

const summary = (counts: Counts): string =>
  `Stood in: ${[
    times(counts.write, 'write'),
    times(counts.read, 'read'),
    `${counts.refused} refused`,
    `${counts.ignored} ignored`,
    `${counts.malformed} malformed`,
    ...(counts.network > 0 ? [`${counts.network} from the network`] : []),
    ...(counts.fault > 0 ? [times(counts.fault, 'fault')] : []),
  ].join(', ')}.`;

const loadAll = async (options: StandinFlags) => {
  if (idle(options)) {
    const told = 'There is nothing to leave to chance; add --scatter or a --fault, or leave the seed out.';
    return fail([problem('usage', '--seed', told)]);
  }
  const desk = await loadDesk(options.target, options.quantiser);
  if (!desk.ok) return desk;
  const place = placeOf(options, desk.value.target);
  if (!place.ok) return place;
  const outputs: Outcome<StandinOutputs> =
    options.rig === undefined ? ok({}) : await loadOutputs(options.rig, desk.value.target);
  if (!outputs.ok) return outputs;
  const state: Outcome<unknown> =
    options.state === undefined ? ok(undefined) : await loadState(options.state);
  if (!state.ok) return state;
  return ok({ desk: desk.value, ...place.value, outputs: outputs.value, state: state.value });
};

/** Fulfilled by the first interrupt; those after it are no longer ours. */
const interruption = (): Promise<void> =>
  new Promise((resolve) => {
    const handBack = onInterrupt(() => {
      handBack();
      resolve();
    });
  });

/** The work of `bandwright standin`: it goes on until it is interrupted. */
export const runStandin = async (options: StandinFlags, terminal: Terminal): Promise<ExitCode> => {
  const json = options.json === true;
  const loaded = await loadAll(options);
  if (!loaded.ok) return stopOn(loaded.error, terminal, json);
  const { desk, kind, port, outputs, state } = loaded.value;
  const { target } = desk;
  const leftToChance = options.scatter === true || options.fault.length > 0;
  const seed = options.seed ?? anySeed();
  const line = eventLines(target);
  const seldom = (event: StandinEvent) => event.event === 'read' || event.event === 'fault';
  const standin = await startStandin({
    desk,
    kind,
    port,
    bind: options.bind,
    faults: options.fault,
    seed,
    scatter: options.scatter === true,
    outputs,
    ...(state === undefined ? {} : { state }),
    onEvent: (event) => {
      if (json) terminal.out(`${eventJson(event)}\n`);
      else if (options.verbose === true || !seldom(event)) terminal.out(`${line(event)}\n`);
    },
  });
  if (!standin.ok) {
    const source = options.state;
    const isState = ({ code }: { readonly code: string }) => code === 'standin-state-wrong';
    return stopOn(
      standin.error.map((each) => (isState(each) && source !== undefined ? { source, ...each } : each)),
      terminal,
      json,
    );
  }
  const { bind } = standin.value;
  const interrupted = interruption();
  if (json) {
    const chance = leftToChance ? { seed } : {};
    const told = { event: 'listening', transport: kind, bind, port: standin.value.port, ...chance };
    terminal.out(`${JSON.stringify(told)}\n`);
  }
  const bound = placeText(bind, standin.value.port);
  // A push takes no address that is everybody's.
  const at = placeText(reachableAt(bind), standin.value.port);
  terminal.err(`Standing in for ${target.id} at ${bound}, by ${kind}, until Ctrl-C.`);
  if (!isLoopback(bind)) {
    const told = 'Open to the network: whoever reaches this computer can turn its knobs.';
    for (const line of wrap(told, messageColumns(terminal))) terminal.err(line);
  }
  if (leftToChance) terminal.err(`To meet the same chance again: --seed ${seed}`);
  const spoken = kind === target.osc?.transports[0]?.kind ? [] : ['--transport', kind];
  // What came in by standard input is gone: a push needs a file.
  const [where, named] =
    options.target === '-' ? [', FILE being where the target is kept', 'FILE'] : ['', options.target];
  terminal.err(`Push to it${where}:`);
  terminal.err(commandLine('bandwright', 'push', 'RECIPE', '--target', named, '--to', at, ...spoken));
  await interrupted;
  await standin.value.close();
  if (json) terminal.out(`${JSON.stringify({ event: 'state', ...standin.value.snapshot() })}\n`);
  terminal.err(summary(standin.value.counts()));
  return exitCodes.done;
};
