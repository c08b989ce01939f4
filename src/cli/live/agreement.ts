import { hang, wrap } from '../../layout/wrap.js';
import type { Sorted } from '../../live/write/write-mixes.js';
import type { Desk } from '../../model/desk.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { RecipeMix } from '../../model/recipe.js';
import { ask } from '../../node/ask.js';
import { printable } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import type { Terminal } from '../words/terminal.js';
import { changeLines, mixHead } from './change-lines.js';
import type { Interruption } from './interruption.js';
import { shortfallLines } from './shortfall.js';
import type { Writing } from './write-to-desk.js';

interface Situation {
  readonly desk: Desk;
  readonly destination: string;
  readonly interruption: Interruption;
  readonly purpose: Writing['purpose'];
  /** What a recipe tells of the mixes; none where what was found is put back. */
  readonly recipeMixes: readonly RecipeMix[];
}

/** How somebody agrees, once it is known to what. */
export type Agreement = (situation: Situation) => Writing['agree'];

const caution =
  'Mute, or have performers take their in-ears out, before you go on: filters are about to switch. Start low afterwards. This is not hearing protection.';

const summary = (
  { toWrite, alike, unread }: Sorted,
  journal: string | null,
  { desk, destination, purpose, recipeMixes }: Situation,
  { columns, colours }: Terminal,
): readonly string[] => {
  return [
    ...wrap(`${purpose === 'push' ? 'To be written' : 'To be put back'} on ${destination}:`, columns),
    '',
    ...changeLines(toWrite, desk, columns),
    ...alike.map((mix) => `${mixHead(mix)}: stands so already`),
    ...unread.flatMap((mix) => [
      `${mixHead(mix)}: not written to`,
      ...mix.problems.flatMap(({ message }) => hang('  ', message, columns)),
    ]),
    '',
    ...shortfallLines(recipeMixes, columns),
    ...wrap(
      journal === null
        ? 'This desk cannot be read: what stands there is not kept, and nothing is proved.'
        : `What stands there now is kept in ${printable(journal)}`,
      columns,
      '  ',
    ),
    ...wrap(caution, columns).map((line) => colours.bold(line)),
  ];
};

/**
 * How the user agrees to what is about to be written: asked on a terminal, after being shown all of it, or told by
 * --yes. Where nobody can be asked, --yes is needed, and the command line is wrong without it.
 */
export const agreement = (
  { yes }: { readonly yes?: boolean },
  inputIsTaken: boolean,
  terminal: Terminal,
): Outcome<Agreement> => {
  if (!yes && (!terminal.canAsk || inputIsTaken)) {
    const told =
      'Nobody can be asked here, for standard input or error is no terminal, or the file comes from there. Add --yes to write without being asked.';
    return fail([problem('usage', '--yes', told)]);
  }
  return ok((situation) => async (sorted, journal) => {
    for (const line of summary(sorted, journal, situation, terminal)) terminal.err(line);
    if (yes) return true;
    const count = sorted.toWrite.length;
    const verb = situation.purpose === 'push' ? 'Write' : 'Put back';
    const { signal, interrupt } = situation.interruption;
    return ask(`${verb} ${count} mix${count === 1 ? '' : 'es'}? [y/N] `, signal, interrupt);
  });
};
