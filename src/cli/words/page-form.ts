import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { targetPath } from '../../node/targets.js';
import { ok } from '../../units/result.js';
import type { ExitCode } from './exit-code.js';
import type { pageForms } from './options.js';
import { isStandardOutput, openOutputs, writeAndTell } from './outputs.js';
import { stopOn } from './run-command.js';
import { pageColumns, type Terminal } from './terminal.js';
import { colouredVerdicts } from './verdict-colours.js';

type PageForm = (typeof pageForms)[number];

/** What every command that has such forms takes. */
export interface FormOptions {
  /** As text unless given. */
  readonly format?: PageForm;
  readonly output?: string;
  readonly force?: boolean;
  readonly json?: boolean;
  readonly csv?: boolean;
}

/** What somebody tells a sheet of a show. */
export interface ShowOptions {
  readonly venue?: string;
  readonly date?: string;
}

/** What is told to a sheet where none is made; undefined where that is not so. */
export const untoldShow = (options: ShowOptions, formats: readonly string[]): Problem | undefined => {
  const name = formats.includes('sheet')
    ? undefined
    : (['venue', 'date'] as const).find((each) => options[each]);
  if (name === undefined) return undefined;
  const told = `A sheet tells it, and ${formats.join(', ')} does not. Leave it out, or write --format sheet.`;
  return problem('usage', `--${name}`, told);
};

type WrittenForm = PageForm | 'json' | 'csv';

/** The form that is asked for: programs have flags of their own. */
export const reportForm = ({ format = 'text', json, csv }: FormOptions): WrittenForm =>
  json ? 'json' : csv ? 'csv' : format;

const endings: Readonly<Record<WrittenForm, string>> = {
  text: 'txt',
  sheet: 'html',
  svg: 'svg',
  json: 'json',
  csv: 'csv',
};

/** A report in the form that was asked for. */
export interface ToldReport {
  readonly code: ExitCode;
  /** Null where there is nothing to tell but in messages: then nothing is written. */
  readonly content: string | null;
  /** What it comes to, for whoever does not see the content. */
  readonly verdict: readonly string[];
}

/** How a report is made, and what its file is called. */
export interface Report {
  readonly options: FormOptions;
  readonly fileName: string;
  /** The files it is made of: nothing is written over them. */
  readonly inputs: readonly string[];
  work(): Promise<Outcome<ToldReport>>;
  /** How it ends where it cannot be made; as any command unless given. */
  stop?(problems: readonly Problem[]): ExitCode;
}

/**
 * Makes a report and puts it where it is asked for: to a file that is opened before the work begins and is whole or not
 * there, or to standard output.
 */
export const tellReport = async (
  {
    options,
    fileName,
    inputs,
    work,
    stop = (problems) => stopOn(problems, terminal, options.json === true),
  }: Report,
  terminal: Terminal,
): Promise<ExitCode> => {
  const form = reportForm(options);
  const { output } = options;
  const opened = isStandardOutput(output)
    ? ok(null)
    : await openOutputs(output, [`${fileName}.${endings[form]}`], {
        inputs,
        overwrite: options.force === true,
      });
  if (!opened.ok) return stop(opened.error);
  const made = await work();
  if (!made.ok || made.value.content === null) await opened.value?.discard();
  if (!made.ok) return stop(made.error);
  const { code, content, verdict } = made.value;
  if (content === null) return code;
  const [pending] = opened.value?.pending ?? [];
  if (pending) {
    const written = await writeAndTell([{ pending, content }], terminal);
    if (!written.ok) return stop(written.error);
  } else {
    terminal.out(content);
  }
  // Who reads it on a screen sees it there, and programs ask for nothing besides.
  if (pending || form === 'sheet' || form === 'svg') for (const line of verdict) terminal.err(line);
  return code;
};

/** The files that some targets and kinds of grid lie in; of a target that is not there whoever loads it tells. */
export const filesOf = async (
  targets: readonly string[],
  others: readonly string[],
): Promise<readonly string[]> => {
  const found = await Promise.all(targets.map(targetPath));
  return [...found.flatMap((each) => (each.ok ? [each.value] : [])), ...others];
};

/** How wide a text may be: as the window is, and in a file as wide as everywhere. */
export const reportColumns = ({ output }: FormOptions, terminal: Terminal): number =>
  pageColumns({
    outIsTerminal: terminal.outIsTerminal && isStandardOutput(output),
    columns: terminal.columns,
  });

/** A text for people, its verdicts in colour where it is shown on a terminal. */
export const reportText = (lines: readonly string[], { output }: FormOptions, terminal: Terminal): string => {
  const shown = isStandardOutput(output) ? colouredVerdicts(lines, terminal) : lines;
  return `${shown.join('\n')}\n`;
};
