import { messageLine } from '../../exporters/osc.js';
import { wrap } from '../../layout/wrap.js';
import type { Problem } from '../../model/problem.js';
import { dryRun, push } from '../../node/desk/push.js';
import { fail } from '../../units/result.js';
import { agreement } from '../words/agreement.js';
import { deskOptions, stopSequence, withInterrupts } from '../words/conversation.js';
import type { WriteFlags } from '../words/desk-options.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { type RecipeOnDesk, readRecipeOnDesk } from '../words/read-recipe.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { finish } from '../words/write-report.js';

export interface PushFlags extends WriteFlags {
  readonly target?: string;
  readonly dryRun?: boolean;
  readonly allowRise?: boolean;
  readonly acceptNames?: boolean;
  readonly blind?: boolean;
}

const nothingToWrite = 'The recipe has no mix to write to: every one is to be left alone.';

/** The messages of a dry run: against the desk as it stands, where one is given; it is only read. */
const runDry = async (what: RecipeOnDesk, flags: PushFlags, terminal: Terminal): Promise<ExitCode> => {
  const json = flags.json === true;
  const done = await withInterrupts(terminal, (interruption) =>
    dryRun({
      ...deskOptions(flags, interruption, terminal),
      ...what,
      ...(flags.only ? { only: flags.only } : {}),
      allowRise: flags.allowRise === true,
    }),
  );
  if (!done.ok) return stopSequence(done.error, terminal, json);
  const { messages, isFromDesk } = done.value;
  if (messages === null) {
    terminal.err('Interrupted: nothing was written.');
    return exitCodes.interrupted;
  }
  const told = isFromDesk
    ? 'Dry run, the desk was only read: the messages that would set these mixes, each to be read back.'
    : 'Dry run, nothing is sent: the messages that set these mixes whatever stands on the desk.';
  for (const line of wrap(told, messageColumns(terminal))) terminal.err(line);
  const lines = messages.map(messageLine);
  terminal.out(
    json ? `${JSON.stringify({ messages: lines }, null, 2)}\n` : lines.map((each) => `${each}\n`).join(''),
  );
  return exitCodes.done;
};

/** The work of `bandwright push`. */
export const runPush = async (path: string, flags: PushFlags, terminal: Terminal): Promise<ExitCode> => {
  const json = flags.json === true;
  const stop = ({ error }: { readonly error: readonly Problem[] }) => stopSequence(error, terminal, json);
  const asking = agreement(flags, path === '-', terminal);
  const read = await readRecipeOnDesk(path, flags);
  if (!read.ok) return stop(read);
  if (flags.dryRun) return runDry(read.value, flags, terminal);
  const done = await withInterrupts(terminal, (interruption) =>
    push({
      ...deskOptions(flags, interruption, terminal),
      ...read.value,
      ...(flags.only ? { only: flags.only } : {}),
      ...(flags.journalFolder === undefined ? {} : { journalFolder: flags.journalFolder }),
      allowRise: flags.allowRise === true,
      acceptNames: flags.acceptNames === true,
      blind: flags.blind === true,
      agree: (proposal) => asking.agree(proposal, interruption),
    }),
  );
  if (!done.ok) return stop(done);
  if (asking.refusal && done.value.result === 'not-agreed') return stop(fail([asking.refusal]));
  if (done.value.mixes.length > 0) return finish(done.value, json, terminal);
  if (json) terminal.out(`${JSON.stringify(done.value, null, 2)}\n`);
  terminal.err(nothingToWrite);
  return exitCodes.done;
};
