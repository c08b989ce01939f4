import { type Command, InvalidArgumentError, Option } from 'commander';
import { fail, ok, type Result } from '../../units/result.js';

/** Options of a help text beside the common ones, which stand first under "Options:". */
export const helpGroups = { guard: 'Guard:', network: 'Network:', files: 'Files:' } as const;

/** Turns a parser of the units room into one commander can use: a refusal becomes a usage error. */
export const parsedBy =
  <Value>(parse: (text: string) => Result<Value, string>) =>
  (text: string): Value => {
    const parsed = parse(text);
    if (!parsed.ok) throw new InvalidArgumentError(parsed.error);
    return parsed.value;
  };

/** Adds a value of an option that may be repeated to those before. */
export const collect = (text: string, before: readonly string[] | undefined): readonly string[] => [
  ...(before ?? []),
  text,
];

/** An id or a path: ids by commas are several, and of two targets the first would be dropped in silence. */
const oneTarget = (text: string, before: string | undefined): string => {
  if (before === undefined && !/^[a-z0-9-]+(,[a-z0-9-]+)+$/.test(text)) return text;
  throw new InvalidArgumentError('This looks at one desk at a time: name one, and the others afterwards.');
};

export const targetOption = () =>
  new Option('-t, --target <id|path>', 'the desk: a shipped target or a file of your own')
    .argParser(oneTarget)
    .makeOptionMandatory();

/** The names in a list by commas. */
const parseTargets = (text: string): Result<readonly string[], string> => {
  const names = text.split(',').map((name) => name.trim());
  return names.includes('')
    ? fail(
        'Between commas stands the id of a shipped target or the path of a file, as in r40,./our-desk.json.',
      )
    : ok(names);
};

/** Several desks; given twice it names the desks of both. */
export const targetsOption = (flags: string, description: string) =>
  new Option(flags, description).argParser((text: string, before: readonly string[] | undefined) => [
    ...new Set([...(before ?? []), ...parsedBy(parseTargets)(text)]),
  ]);

export const quantiserOption = () =>
  new Option('--quantiser <file.mjs>', 'add a kind of grid of your own, from a module (may be repeated)')
    .argParser(collect)
    .default([] as readonly string[], 'none')
    .helpGroup(helpGroups.files);

export const jsonOption = () => new Option('--json', 'print JSON on standard output');

export const csvOption = (description: string) =>
  new Option('--csv', description).conflicts(['json', 'format']);

/** An option that names where something is written. */
export const pathOption = (flags: string, description: string) =>
  new Option(flags, description)
    .argParser(
      parsedBy((path) => (path === '' ? fail('Nothing stands there; name a file or a folder.') : ok(path))),
    )
    .helpGroup(helpGroups.files);

export const outputOption = () =>
  pathOption('-o, --output <path>', 'write to this file, or into this folder where it ends in /');

export const forceOption = () =>
  new Option('--force', 'replace files that exist already').helpGroup(helpGroups.files);

/** How a report that is no recipe can be told: to a terminal, as a page, as a picture. */
export const pageForms = ['text', 'sheet', 'svg'] as const;

/** Adds the options that say in which form a report is told, and where; programs have --json, and some --csv. */
export const addFormOptions = (command: Command): Command =>
  command
    .addOption(
      new Option('-f, --format <name>', 'text, a page to look at, or a picture')
        .choices(pageForms)
        .default('text'),
    )
    .addOption(outputOption())
    .addOption(forceOption());

export const venueOption = () => new Option('--venue <text>', 'on a sheet: where the show is');

export const dateOption = () => new Option('--date <text>', 'on a sheet: when it is');
