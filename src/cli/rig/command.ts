import { Command, Option } from 'commander';
import { collect, forceOption, jsonOption, pathOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const more = `
A system is NAME=KIND: analogue with the audio range its manual prints, and its
pre-emphasis where that is known; digital; wired. A mix is NAME=OUTPUTS:SYSTEM;
what is left out is the next pair of outputs and what the mix before it feeds.
Several mixes go by commas. Where that leaves something open, and there is a
terminal, it is asked for; every answer is kept in FILE.draft meanwhile.

Examples:
  bandwright rig new our-show.json --system packs=analogue,40..15000,50us --mix Singer=1/2 --mix Drums
  bandwright rig new wired.json --system a=analogue,40..15000 --system b=wired --mix Singer=1/2:a,Drums=7:b
  bandwright rig new tomorrow.json --from show.json --mix Keys --json
`;

const fresh = (): Command =>
  new Command('new')
    .summary('make a rig file by answering questions, or from options')
    .description(
      'Makes a rig file: which systems there are, and which mixes of which outputs feed them. Asks for it on a terminal, one question after another; in scripts the options say it all.',
    )
    .argument('<file>', 'the file to make; - for standard output')
    .addOption(new Option('--title <text>', 'what the show is called (default: as the file)'))
    .addOption(
      new Option('--system <name=kind,...>', 'a system, see below (may be repeated)').argParser(collect),
    )
    .addOption(
      new Option('--mix <name=outputs:system>', 'a mix, see below (may be repeated)').argParser(collect),
    )
    .addOption(
      new Option(
        '--free-slots <slots>',
        'the slots that may be used; of one mix: NAME:SLOTS (may be repeated)',
      ).argParser(collect),
    )
    .addOption(pathOption('--from <file>', 'begin with all that this rig says'))
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText('after', more)
    .action((file: string, options) =>
      runCommand(async (terminal) => (await import('./new.js')).runNewRig(file, options, terminal)),
    );

/** `rig`: the files that tell which systems there are and what feeds them. */
export const rigCommand = (): Command =>
  new Command('rig')
    .description('A rig tells the in-ear systems of a show, and which mixes of the desk feed them.')
    .addHelpText('after', '\nExample:\n  bandwright rig new --help\n')
    .addCommand(fresh());
