import { readRig } from '../../documents/read.js';
import { protect } from '../../fitting/protect/protect.js';
import { emphasised } from '../../layout/emphasis.js';
import { hang, wrap } from '../../layout/wrap.js';
import { loadDesk } from '../../node/targets.js';
import { makeRecipe } from '../../recipes/make-recipe.js';
import demoRig from '../demo-rig.json' with { type: 'json' };
import { exporterNamed } from '../recipe/deliver.js';
import { recipeExitCode } from '../recipe/recipe-verdict.js';
import { stopSequence } from '../words/conversation.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { messageColumns, pageColumns, type Terminal } from '../words/terminal.js';
import { shownOn, verdictColours } from '../words/verdict-colours.js';
import { type Rehearsed, rehearse } from './rehearse.js';

const demoTarget = 'cut-section';

const copyable = ['bandwright recipe RIG.json --target ID', 'bandwright targets list'];
const introduction = [
  `A demonstration: the rig of an invented show, fitted on the shipped target ${demoTarget}.`,
  `For your own: ${copyable[0]} (--full tells more)`,
  `The ids: ${copyable[1]}`,
  '',
];

const how = (isDone: boolean, good: string, bad: string): string => (isDone ? good : `FALLS SHORT: ${bad}`);

const rehearsalLines = (
  { transport, push, verify, restore }: Rehearsed,
  terminal: Terminal,
): readonly string[] => {
  const columns = pageColumns(terminal);
  const steps = [
    hang(
      '  push     ',
      how(
        push.done,
        `${push.mixes} mixes written, ${push.values} values read back as set`,
        'not all of it was set',
      ),
      columns,
    ),
    hang(
      '  verify   ',
      how(verify.done, `${verify.mixes} mixes read again, and all hold`, 'not all of it holds'),
      columns,
    ),
    hang(
      '  restore  ',
      how(
        restore.done,
        `${restore.mixes} mixes put back; the desk stands to the last step as it was found`,
        'the desk does not stand as it was found',
      ),
      columns,
    ),
  ];
  return [
    '',
    ...wrap(
      `REHEARSAL by ${transport.toUpperCase()} with a stand-in desk on this computer, its filters scattered:`,
      columns,
    ),
    ...emphasised(steps.flat(), { short: ['FALLS SHORT'] }, verdictColours(terminal)),
    '',
    ...wrap('On a real desk: mute, or have performers take their in-ears out, before you push.', columns),
  ];
};

/** The work of `bandwright demo`. */
export const runDemo = async (
  options: { readonly json?: boolean },
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = options.json === true;
  const stop = (outcome: { readonly error: Parameters<typeof stopSequence>[0] }) =>
    stopSequence(outcome.error, terminal, json);
  const rig = readRig(JSON.stringify(demoRig), { source: 'the demo rig' });
  if (!rig.ok) return stop(rig);
  const desk = await loadDesk(demoTarget, []);
  if (!desk.ok) return stop(desk);
  const recipe = makeRecipe(rig.value, desk.value, { fit: protect, spareSlots: 0 });
  if (!recipe.ok) return stop(recipe);
  const shown = { target: desk.value.target, ...shownOn(terminal) };
  const content = exporterNamed('text').content(recipe.value, shown);
  if (!content.ok) return stop(content);
  if (!json) {
    for (const text of introduction)
      for (const line of wrap(text, messageColumns(terminal), '  ', copyable)) terminal.err(line);
    terminal.out(content.value);
  }
  // It takes a second, and what it says must not depend on the port it finds.
  const quiet = { ...terminal, progress: () => undefined };
  const rehearsed = await rehearse(recipe.value, desk.value, quiet);
  if (!rehearsed.ok) return stop(rehearsed);
  const { push, verify, restore } = rehearsed.value;
  if (json)
    terminal.out(`${JSON.stringify({ recipe: recipe.value, rehearsal: rehearsed.value }, null, 2)}\n`);
  else for (const line of rehearsalLines(rehearsed.value, terminal)) terminal.out(`${line}\n`);
  const isProved = push.done && verify.done && restore.done;
  return isProved ? recipeExitCode(recipe.value) : exitCodes.fallsShort;
};
