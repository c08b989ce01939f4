import { wrap } from '../../layout/wrap.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { lastJournal, restore } from '../../node/desk/restore.js';
import { loadQuantiserKinds } from '../../node/load-quantiser.js';
import { readInput } from '../../node/read-input.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { agreement } from '../words/agreement.js';
import { deskOptions, stopSequence, withInterrupts } from '../words/conversation.js';
import { momentWords, pathLine } from '../words/copyable.js';
import type { WriteFlags } from '../words/desk-options.js';
import type { ExitCode } from '../words/exit-code.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { finish } from '../words/write-report.js';

export interface RestoreFlags extends WriteFlags {
  readonly last?: boolean;
  readonly acceptNames?: boolean;
  readonly acceptChanges?: boolean;
  readonly allowRise?: boolean;
  readonly target?: string;
}

/** The journal that was named, or the last one, which is told. */
const journalPath = async (
  path: string | undefined,
  { last, journalFolder, to }: RestoreFlags,
  terminal: Terminal,
): Promise<Outcome<string>> => {
  if (path !== undefined && !last) return ok(path);
  if (path !== undefined || !last) {
    const told =
      path === undefined
        ? 'Name the journal to put back, as bandwright journals lists them, or add --last for the newest push that has not been put back.'
        : 'It takes the newest push that has not been put back: leave it out, or the journal that is named.';
    return fail([problem('usage', path === undefined ? '<journal>' : '--last', told)]);
  }
  const found = await lastJournal(journalFolder, to);
  if (!found.ok) return found;
  const { journal, passedOver } = found.value;
  const { here, utc } = momentWords(journal.startedAt);
  for (const unread of passedOver) {
    terminal.err('Newer, cannot be read, and passed over:');
    terminal.err(pathLine(unread.path));
  }
  const when = here === utc ? `${utc} UTC` : `${here} here, ${utc} UTC`;
  const told = `The newest push that has not been put back: ${when}, ${quote(journal.title)}`;
  for (const line of wrap(told, messageColumns(terminal), '', [quote(journal.title)])) terminal.err(line);
  terminal.err(pathLine(journal.path));
  return ok(journal.path);
};

/** The work of `bandwright restore`. */
export const runRestore = async (
  path: string | undefined,
  flags: RestoreFlags,
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = flags.json === true;
  const stop = ({ error }: { readonly error: readonly Problem[] }) => stopSequence(error, terminal, json);
  const asking = agreement(flags, path === '-', terminal);
  const chosen = await journalPath(path, flags, terminal);
  if (!chosen.ok) return stop(chosen);
  const input = await readInput(chosen.value);
  if (!input.ok) return stop(input);
  const kinds = await loadQuantiserKinds(flags.quantiser);
  if (!kinds.ok) return stop(kinds);
  const { bytes, source } = input.value;
  const done = await withInterrupts(terminal, (interruption) =>
    restore({
      ...deskOptions(flags, interruption, terminal, 'Putting back'),
      journal: bytes,
      source,
      quantiserKinds: kinds.value,
      acceptNames: flags.acceptNames === true,
      acceptChanges: flags.acceptChanges === true,
      allowRise: flags.allowRise === true,
      ...(flags.target === undefined ? {} : { target: flags.target }),
      ...(flags.only ? { only: flags.only } : {}),
      ...(flags.journalFolder === undefined ? {} : { journalFolder: flags.journalFolder }),
      agree: (proposal) => asking.agree(proposal, interruption),
    }),
  );
  if (!done.ok) return stop(done);
  if (asking.refusal && done.value.result === 'not-agreed') return stop(fail([asking.refusal]));
  return finish(done.value, json, terminal);
};
