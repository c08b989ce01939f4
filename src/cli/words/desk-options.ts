import { type Command, Option } from 'commander';
import { usualRatePerSecond, usualRetryPolicy } from '../../live/session/session.js';
import { type OscTransport, oscTransports } from '../../model/target.js';
import { parseCount } from '../../units/parse.js';
import { fail, ok } from '../../units/result.js';
import { helpGroups, parsedBy, pathOption } from './options.js';

/** How a desk is reached over a network, as it is typed. */
export interface DeskFlags {
  readonly to?: string;
  readonly transport?: OscTransport;
  readonly rate: number;
  readonly timeout: number;
  readonly retries: number;
  readonly allowBroadcast?: boolean;
}

/** What a push and a restore are told on the command line. */
export interface WriteFlags extends DeskFlags {
  readonly only?: readonly string[];
  readonly yes?: boolean;
  readonly journalFolder?: string;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

const countFrom = (least: number, most: number, unit: string) =>
  parsedBy((text) => {
    const count = parseCount(text, least);
    return count.ok && count.value > most
      ? fail(`${text} is more than the ${most} ${unit} allowed.`)
      : count.ok
        ? ok(count.value)
        : count;
  });

export const toOption = () =>
  new Option('--to <host[:port]>', 'the desk on the network (the port as the target says, unless given)');

const usualRate = { usual: usualRatePerSecond, most: 1_000_000 };

/** The options of every command that talks to a desk, but for where it is. */
export const addDeskOptions = (command: Command, rate = usualRate): Command =>
  command
    .optionsGroup(helpGroups.network)
    .addOption(
      new Option('--transport <kind>', 'how OSC travels (default: the first the target lists)').choices(
        oscTransports,
      ),
    )
    .addOption(
      new Option('--rate <n>', 'messages a second at most')
        .argParser(countFrom(1, rate.most, 'messages a second'))
        .default(rate.usual),
    )
    .addOption(
      new Option('--timeout <ms>', 'how long the first answer may take; retries wait longer')
        .argParser(countFrom(1, 60_000, 'ms'))
        .default(usualRetryPolicy.timeoutMs),
    )
    .addOption(
      new Option('--retries <n>', 'how often the same is sent once more before it counts as unanswered')
        .argParser(countFrom(0, 99, 'retries'))
        .default(usualRetryPolicy.retries),
    )
    .addOption(new Option('--allow-broadcast', 'let --to be a broadcast, multicast or unspecified address'))
    .optionsGroup('');

export const onlyOption = () =>
  new Option('--only <mix>', 'this mix only (may be repeated)').argParser(
    (mix: string, before: readonly string[] | undefined) => [...(before ?? []), mix],
  );

export const yesOption = () => new Option('-y, --yes', 'do not ask before writing');

export const journalFolderOption = () =>
  pathOption(
    '--journal-folder <folder>',
    'where journals are kept (default: BANDWRIGHT_JOURNALS, or your own folder for such files)',
  );
