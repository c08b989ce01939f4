import { wrap } from '../../layout/wrap.js';
import type { Problem } from '../../model/problem.js';
import { verify } from '../../node/desk/verify.js';
import { deskOptions, stopSequence, withInterrupts } from '../words/conversation.js';
import type { DeskFlags } from '../words/desk-options.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { otherNameNote } from '../words/other-name.js';
import { problemLines } from '../words/problem-lines.js';
import { readRecipeOnDesk } from '../words/read-recipe.js';
import { verifyLines } from '../words/report-lines.js';
import { otherSlotsLines, shortfallLines } from '../words/shortfall.js';
import { messageColumns, pageColumns, type Terminal } from '../words/terminal.js';
import { colouredVerdicts } from '../words/verdict-colours.js';

export interface VerifyFlags extends DeskFlags {
  readonly target?: string;
  readonly only?: readonly string[];
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

/** The work of `bandwright verify`. */
export const runVerify = async (path: string, flags: VerifyFlags, terminal: Terminal): Promise<ExitCode> => {
  const json = flags.json === true;
  const stop = ({ error }: { readonly error: readonly Problem[] }) => stopSequence(error, terminal, json);
  const read = await readRecipeOnDesk(path, flags);
  if (!read.ok) return stop(read);
  const done = await withInterrupts(terminal, (interruption) =>
    verify({
      ...deskOptions(flags, interruption, terminal),
      ...read.value,
      ...(flags.only ? { only: flags.only } : {}),
    }),
  );
  if (!done.ok) return stop(done);
  const { result, mixes, problems, otherNames } = done.value;
  if (json) terminal.out(`${JSON.stringify(done.value, null, 2)}\n`);
  else {
    const lines = verifyLines(mixes, pageColumns(terminal));
    for (const line of colouredVerdicts(lines, terminal)) terminal.out(`${line}\n`);
  }
  if (result === 'interrupted') {
    terminal.err('Interrupted: nothing was written.');
    return exitCodes.interrupted;
  }
  for (const line of problemLines(problems, terminal)) terminal.err(line);
  for (const each of otherNames)
    for (const line of wrap(otherNameNote(each), messageColumns(terminal))) terminal.err(line);
  const holding = mixes.filter(({ state }) => state === 'holds');
  const count = (state: (typeof mixes)[number]['state']): number =>
    mixes.filter((mix) => mix.state === state).length;
  const [differing, unknown] = [count('differs'), count('unread')];
  const told =
    result === 'done'
      ? `Every mix stands as the recipe set it (${mixes.length}).`
      : `Of ${mixes.length} mix${mixes.length === 1 ? '' : 'es'} ${[
          ...(differing > 0
            ? [`${differing} stand${differing === 1 ? 's' : ''} otherwise than the recipe set`]
            : []),
          ...(unknown > 0 ? [`${unknown} could not be read whole`] : []),
        ].join(', ')}.`;
  terminal.err(told);
  const short = holding.flatMap(({ name, guard, missing }) =>
    guard === undefined || missing === undefined ? [] : [{ name, guard, missing }],
  );
  for (const line of shortfallLines(short, messageColumns(terminal))) terminal.err(line);
  if (result === 'done') for (const line of otherSlotsLines(messageColumns(terminal))) terminal.err(line);
  return result === 'done' ? exitCodes.done : exitCodes.fallsShort;
};
