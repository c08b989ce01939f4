import type { Command } from 'commander';
import type { SheetContext } from '../../exporters/exporter.js';
import { readTwice } from '../../node/read-input.js';
import { digestOf } from '../../units/digest.js';
import { givenWords, typedWords } from '../words/copyable.js';
import type { ShowOptions } from '../words/page-form.js';

/** Options that say where something goes or how it looks, and not what the recipe is. */
const elsewhere: ReadonlySet<string> = new Set([
  'format',
  'json',
  'output',
  'force',
  'full',
  'plot',
  'venue',
  'date',
]);

/** The command line that makes the same recipe, as JSON to be pushed. */
const jsonCommandOf = (command: Command): string => {
  const words = [
    'bandwright',
    command.name(),
    ...command.args,
    ...givenWords(command, elsewhere),
    '--format',
    'json',
    '--output',
    'recipe.json',
  ];
  return typedWords(words);
};

/** What a push has to be told of the desk: a target of one's own, and kinds of grid. */
const deskWordsOf = (command: Command, targetIsShipped: boolean): string => {
  const told: ReadonlySet<string> = new Set(['quantiser', ...(targetIsShipped ? [] : ['target'])]);
  const names = command.options.map((option) => option.attributeName());
  return typedWords(givenWords(command, new Set(names.filter((name) => !told.has(name)))));
};

/** A file that a recipe is made of, and what it is called. */
export interface NamedFile {
  readonly name: string;
  readonly path: string;
}

/** What a sheet tells beside the recipe: the files it was made of with their digests, and how it is made again. */
export const sheetContext = async (
  { venue, date }: ShowOptions,
  { rig, target }: { readonly rig: NamedFile; readonly target: NamedFile },
  command: Command,
): Promise<SheetContext> => {
  const files = [rig, target];
  const inputs = await Promise.all(
    files.map(async ({ name, path }) => {
      const input = await readTwice(path);
      return input ? [{ name, sha256: digestOf(input.bytes) }] : [];
    }),
  );
  const found = inputs.flat();
  return {
    ...(venue === undefined ? {} : { venue }),
    ...(date === undefined ? {} : { date }),
    inputs: found,
    deskWords: deskWordsOf(command, target.name !== target.path),
    // What came through a pipe is not there a second time.
    ...(found.length === files.length ? { jsonCommand: jsonCommandOf(command) } : {}),
  };
};
