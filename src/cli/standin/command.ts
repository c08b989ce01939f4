import { Command, Option } from 'commander';
import { oscTransports } from '../../model/target.js';
import { faults } from '../../standin/faults/registry.js';
import { parseCount } from '../../units/parse.js';
import { fail, ok } from '../../units/result.js';
import {
  collect,
  helpGroups,
  jsonOption,
  parsedBy,
  pathOption,
  quantiserOption,
  targetOption,
} from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const faultList = faults
  .map(({ name, example, summary }) => `  ${name}=${example}\n      ${summary}`)
  .join('\n');

const more = `
Faults, each as in:
${faultList}

It listens on this computer alone. To open it to the network, name the address
of a network card, or 0.0.0.0 for all of them: --bind 0.0.0.0

Examples:
  bandwright standin --target log-179
  bandwright standin --target log-179 --rig show.json --scatter --fault loss=10%
`;

const portOption = () =>
  new Option('--port <n>', "the port (default: the target's own; 0: any that is free)")
    .argParser(
      parsedBy((text) => {
        const port = parseCount(text, 0);
        return !port.ok || port.value <= 65_535 ? port : fail('A port is a number from 0 to 65535.');
      }),
    )
    .helpGroup(helpGroups.network);

const bindOption = () =>
  new Option('--bind <address>', 'the address of this computer to listen at')
    .argParser(parsedBy((text) => (text === '' ? fail('Nothing stands there; give an address.') : ok(text))))
    .default('127.0.0.1')
    .helpGroup(helpGroups.network);

/** `standin`: a simulated desk on a real socket, to rehearse on. */
export const standinCommand = (): Command =>
  new Command('standin')
    .description(
      'Lets a target stand in for its desk: it listens for OSC, holds every filter of every output, moves what it is sent to its own steps, and answers as the target says, until Ctrl-C. On request it does what networks, desks and people do at the worst moment.',
    )
    .addOption(targetOption())
    .addOption(
      new Option('--transport <kind>', "how it is spoken to (default: the target's first)")
        .choices(oscTransports)
        .helpGroup(helpGroups.network),
    )
    .addOption(portOption())
    .addOption(bindOption())
    .addOption(pathOption('--rig <rig|recipe>', 'outputs named, and paired, as the mixes of this file'))
    .addOption(
      pathOption('--state <file>', 'begin as another stand-in ended: the last line of its --json').conflicts(
        'scatter',
      ),
    )
    .addOption(new Option('--scatter', 'begin with everything set to something, told by the seed'))
    .addOption(
      new Option('--fault <name=value>', 'a fault, see below (may be repeated)')
        .argParser(collect)
        .default([] as readonly string[], 'none'),
    )
    .addOption(
      new Option('--seed <n>', 'what --scatter and --fault leave to chance, told by a number').argParser(
        parsedBy((text) => parseCount(text, 0)),
      ),
    )
    .addOption(new Option('--verbose', 'tell of questions and faults too').conflicts('json'))
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', more)
    .action((options) =>
      runCommand(async (terminal) => (await import('./standin.js')).runStandin(options, terminal)),
    );
