import { Command } from 'commander';
import { addGuardOptions, spareSlotsOption } from '../words/guard-options.js';
import { addFormOptions, csvOption, jsonOption, quantiserOption, targetOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const example = `
Examples:
  bandwright tradeoff --target log-179
  bandwright tradeoff --target top-18 --spare-slots 1 --csv
  bandwright tradeoff --target log-179 --format sheet --output tradeoff.html
`;

/** `tradeoff`: what more music lost would buy at the pilot. */
export const tradeoffCommand = (): Command =>
  addFormOptions(
    addGuardOptions(
      new Command('tradeoff')
        .description(
          'Tells what the usual protective filters together can do on a desk: the most attenuation at the pilot for every limit on music lost, as a table and a plot, with the steps that do it and what every knob at its nearest step gives.',
        )
        .addOption(targetOption())
        .addOption(csvOption('print CSV instead'))
        .addOption(jsonOption().conflicts('format')),
      ['pilot', 'window', 'keepHigh', 'attenuation'],
    ).addOption(spareSlotsOption()),
  )
    .addOption(quantiserOption())
    .addHelpText('after', example)
    .action((options) =>
      runCommand(async (terminal) => (await import('./tradeoff.js')).runTradeoff(options, terminal)),
    );
