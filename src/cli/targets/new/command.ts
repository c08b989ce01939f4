import { Command, Option } from 'commander';
import { collect, forceOption, jsonOption, pathOption } from '../../words/options.js';
import { runCommand } from '../../words/run-command.js';

const more = `
A grid is what was read off the knob ("20.0k 19.4k stop"), or its rule:
  20 to 20000 in 201 steps   0.5 from -15 to 15   1/6 octave   all 12 18 24
It is asked for each kind of filter in turn, in the order of --slots; where it
is given once, the others have the same. With OSC an address is an example of
one output and slot, or has {output} and {slot} in it. What is left open is
asked for on a terminal; every answer is kept in FILE.draft meanwhile.

Examples:
  bandwright targets new mine.json --outputs 16 --slots 4xbell,low-cut,high-cut --frequency 20..20k,201steps --q 0.4..10,41steps --gain -15..15,61steps --slope 12,24 --rate 48k
  bandwright targets new copy.json --from cut-section --title Ours
`;

const named = (flags: string, description: string): Option => new Option(flags, description);

const several = (flags: string, description: string): Option => named(flags, description).argParser(collect);

/** `targets new`: a target file, by questions or from options. */
export const newTargetCommand = (): Command =>
  new Command('new')
    .summary('describe a desk by answering questions, or from options')
    .description(
      'Makes a target file: outputs, filters, the grids of their knobs, how the screen shows them, how OSC reaches them. Asks for it on a terminal, one question after another; in scripts the options say it all.',
    )
    .argument('<file>', 'the file to make; - for standard output')
    .addOption(named('--title <text>', 'what the desk is called (default: as the file)'))
    .addOption(named('--outputs <n>', 'how many outputs have such filters'))
    .addOption(
      named(
        '--stereo <pairs>',
        'which outputs are pairs of one setting: odd-even (default), any, a list as in 1/2,15/16; or separate',
      ),
    )
    .addOption(named('--slots <list>', 'filters of an output, as in "4 bells, a low cut"'))
    .addOption(named('--slot-names <list>', 'what the desk calls them, in that order'))
    .addOption(several('--frequency <grid>', 'how the frequency steps (may be repeated)'))
    .addOption(several('--q <grid>', 'how the Q of bells and notches steps (may be repeated)'))
    .addOption(several('--bandwidth <grid>', 'the same in octaves (may be repeated)'))
    .addOption(several('--shelf-q <grid>', 'the Q of shelves (default: none; may be repeated)'))
    .addOption(several('--slope <grid>', 'the slopes of cuts, as in 12,24 (may be repeated)'))
    .addOption(several('--gain <grid>', 'how the gain steps (may be repeated)'))
    .addOption(several('--grid <name:grid>', 'with --from: a grid that is otherwise (may be repeated)'))
    .addOption(
      named('--display <values>', 'values as the screen shows them, as in "19.32 kHz, 8.00, -15.0 dB"'),
    )
    .addOption(named('--rate <rate>', 'its sample rate, as in 48k; or analogue (default: not known)'))
    .addOption(
      named('--osc <transport:port>', 'how OSC travels: udp, tcp-slip, tcp-length-prefix (default: none)'),
    )
    .addOption(
      several(
        '--address <parameter=address>',
        'an example, as in gain=/mix/3/filter/2/gain (may be repeated)',
      ),
    )
    .addOption(
      several(
        '--encoding <parameter=way>',
        'how it travels: engineering, fraction, index, text (may be repeated)',
      ),
    )
    .addOption(named('--type-order <list>', 'types as the desk counts them, as in bell,low-cut'))
    .addOption(named('--read <how>', 'how it is asked for: same (default), none, or as in /get{address}'))
    .addOption(named('--provenance <text>', 'whose figures these are, off which screen'))
    .addOption(pathOption('--from <id|path>', 'begin with all that this target says'))
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText('after', more)
    .action((file: string, options) =>
      runCommand(async (terminal) => (await import('./new.js')).runNewTarget(file, options, terminal)),
    );
