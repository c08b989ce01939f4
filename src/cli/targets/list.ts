import { tableLines } from '../../layout/columns.js';
import type { Target } from '../../model/target.js';
import { loadTarget, shippedTargets } from '../../node/targets.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import { pageColumns, type Terminal } from '../words/terminal.js';

const summaryOf = ({ id, title, outputs, slots, osc }: Target) => ({
  id,
  title,
  outputs: outputs.count,
  slots: slots.length,
  osc: osc !== undefined,
});

/** The work of `bandwright targets list`. */
export const runList = async (options: { json?: boolean }, terminal: Terminal): Promise<ExitCode> => {
  const summaries: ReturnType<typeof summaryOf>[] = [];
  for (const { id } of await shippedTargets()) {
    const target = await loadTarget(id);
    if (!target.ok) return stopOn(target.error, terminal, options.json === true);
    summaries.push(summaryOf(target.value));
  }
  if (options.json) {
    terminal.out(`${JSON.stringify({ targets: summaries }, null, 2)}\n`);
    return exitCodes.done;
  }
  const rows = summaries.map(({ id, title, outputs, slots, osc }) => [
    id,
    String(outputs),
    String(slots),
    osc ? 'yes' : 'no',
    title,
  ]);
  terminal.out(
    `${tableLines([['target', 'outputs', 'slots', 'OSC', 'what it is'], ...rows], [1, 2], pageColumns(terminal)).join('\n')}\n`,
  );
  return exitCodes.done;
};
