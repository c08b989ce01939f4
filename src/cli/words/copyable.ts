import type { Command, Option } from 'commander';
import { printable } from '../../units/quote.js';

/**
 * A word as a shell takes it: plain, or in quotes in which nothing is carried out. A path with backslashes is in double quotes,
 * which the shells of Windows know too, where nothing stands in it that any shell would look into.
 */
const shellWord = (text: string): string => {
  if (/^[\p{L}\p{N}_./:@%+,=][\p{L}\p{N}_./:@%+,=~-]*$|^--?[\p{L}\p{N}_./:@%+,=~-]*$/u.test(text))
    return text;
  if (/^[^"'`$!\\%]*(?:\\[^"'`$!\\%]+)+$/u.test(text)) return `"${text}"`;
  return `'${text.replaceAll("'", "'\\''")}'`;
};

/** A path on a line of its own, to be copied: it is not broken, however narrow the window. */
export const pathLine = (path: string): string => `  ${printable(path)}`;

/** Words as somebody types them. */
export const typedWords = (words: readonly string[]): string =>
  words.map((word) => shellWord(printable(word))).join(' ');

const valueWords = (option: Option, value: unknown): readonly string[] => {
  const flag = option.long ?? '';
  if (value === true) return [flag];
  if (option.attributeName() === 'outputs' && Array.isArray(value)) return [flag, value.join('/')];
  const values: readonly unknown[] = Array.isArray(value) ? value : [value];
  // What begins with a sign would be taken for an option.
  return values.flatMap((each) =>
    String(each).startsWith('-') ? [`${flag}=${each}`] : [flag, String(each)],
  );
};

/** The options that were typed, as they may be typed again, but for some. */
export const givenWords = (command: Command, except: ReadonlySet<string>): readonly string[] =>
  command.options.flatMap((option) => {
    const name = option.attributeName();
    return command.getOptionValueSource(name) === 'cli' && !except.has(name)
      ? valueWords(option, command.getOptionValue(name))
      : [];
  });

/** A command on a line of its own, to be copied: it is not broken, however narrow the window. */
export const commandLine = (...words: readonly string[]): string => `  ${typedWords(words)}`;

const twoDigits = (number: number): string => String(number).padStart(2, '0');

/** A moment as people here tell it, and as files do: `2026-11-25 13:30:00` and `2026-11-25 12:30:00`. */
export const momentWords = (instant: string): { readonly here: string; readonly utc: string } => {
  const moment = new Date(instant);
  const day = [moment.getFullYear(), moment.getMonth() + 1, moment.getDate()].map(twoDigits).join('-');
  const time = [moment.getHours(), moment.getMinutes(), moment.getSeconds()].map(twoDigits).join(':');
  return { here: `${day} ${time}`, utc: `${instant.slice(0, 10)} ${instant.slice(11, 19)}` };
};
