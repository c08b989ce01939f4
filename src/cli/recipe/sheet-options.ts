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
  // What begins with a sign would be taken for an option.
  const files = command.args.map((path) => (path.startsWith('-') ? `./${path}` : path));
  const given = givenWords(command, elsewhere);
  const words = ['bandwright', command.name(), ...files, ...given];
  return typedWords([...words, '--format', 'json', '--output', 'recipe.json']);
};

/** Some of the options that were given, as they are typed. */
const wordsOf = (command: Command, told: readonly string[]): string => {
  const names = command.options.map((option) => option.attributeName());
  return typedWords(givenWords(command, new Set(names.filter((name) => !told.includes(name)))));
};

/** A file that a recipe is made of, and what it is called. */
export interface NamedFile {
  readonly name: string;
  readonly path: string;
}

/** The files that a recipe is made of; the others are kinds of grid. */
export interface RecipeFiles {
  readonly rig: NamedFile;
  readonly target: NamedFile;
  readonly others: readonly string[];
}

/** What a sheet tells beside the recipe: the files it was made of with their digests, and how it is made again. */
export const sheetContext = async (
  { venue, date, writesJson }: ShowOptions & { readonly writesJson: boolean },
  { rig, target, others }: RecipeFiles,
  command: Command,
): Promise<SheetContext> => {
  const files = [rig, target, ...others.map((path) => ({ name: path, path }))];
  const inputs = await Promise.all(
    files.map(async ({ name, path }) => {
      const input = await readTwice(path);
      return input ? [{ name, sha256: digestOf(input.bytes) }] : [];
    }),
  );
  const found = inputs.flat();
  const isOwn = target.name === target.path;
  return {
    ...(venue === undefined ? {} : { venue }),
    ...(date === undefined ? {} : { date }),
    inputs: found,
    // What came through a pipe is not there a second time.
    ...(found.length === files.length
      ? {
          writesJson,
          jsonCommand: jsonCommandOf(command),
          deskWords: wordsOf(command, ['quantiser', ...(isOwn ? ['target'] : [])]),
          gridWords: wordsOf(command, ['quantiser']),
        }
      : { writesJson, ...(isOwn ? { deskWords: '--target DESK.json' } : {}) }),
  };
};
