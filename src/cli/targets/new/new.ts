import { type Outcome, problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { loadTarget } from '../../../node/targets.js';
import { quoteText } from '../../../units/quote.js';
import { fail, ok } from '../../../units/result.js';
import type { FlagAnswers } from '../../guided/builder.js';
import { contentFor, type GuideOptions, makeByAsking } from '../../guided/guide.js';
import type { ExitCode } from '../../words/exit-code.js';
import { stopOn } from '../../words/run-command.js';
import type { Terminal } from '../../words/terminal.js';
import { lintDesk } from '../lint.js';
import { targetBuilder } from './target-builder.js';
import { readBack, type TargetDraft, targetOf } from './target-draft.js';

type Texts = readonly string[];

export interface NewTargetOptions extends GuideOptions {
  readonly title?: string;
  readonly outputs?: string;
  readonly stereo?: string;
  readonly slots?: string;
  readonly slotNames?: string;
  readonly frequency?: Texts;
  readonly q?: Texts;
  readonly bandwidth?: Texts;
  readonly shelfQ?: Texts;
  readonly slope?: Texts;
  readonly gain?: Texts;
  readonly grid?: Texts;
  readonly display?: string;
  readonly rate?: string;
  readonly osc?: string;
  readonly address?: Texts;
  readonly encoding?: Texts;
  readonly typeOrder?: string;
  readonly read?: string;
  readonly provenance?: string;
}

/** Options of the form PARAMETER=TEXT, as answers to the question about that parameter. */
const perParameter = (flag: string, texts: Texts | undefined): Outcome<FlagAnswers> => {
  const found: Record<string, Texts> = {};
  for (const text of texts ?? []) {
    const [, parameter, told] =
      /^(frequency|q|bandwidth|gain|slope|on|type|outputName)=(.+)$/s.exec(text) ?? [];
    if (parameter === undefined || told === undefined) {
      const message = `${quoteText(text)} does not say of what; write it as in --${flag} frequency=..., with one of frequency, q, bandwidth, gain, slope, on, type, outputName.`;
      return fail([problem('usage', `--${flag}`, message)]);
    }
    found[`${flag}-${parameter}`] = [...(found[`${flag}-${parameter}`] ?? []), told];
  }
  return ok(found);
};

const flagsIn = (options: NewTargetOptions): Outcome<FlagAnswers> => {
  const { title, outputs, stereo, slots, slotNames, frequency, q, bandwidth, shelfQ, slope, gain, grid } =
    options;
  const { display, rate, osc, address, encoding, typeOrder, read, provenance } = options;
  const addresses = perParameter('address', address);
  if (!addresses.ok) return addresses;
  const encodings = perParameter('encoding', encoding);
  if (!encodings.ok) return encodings;
  const single = {
    title,
    outputs,
    stereo,
    slots,
    'slot-names': slotNames,
    display,
    rate,
    osc,
    read,
    provenance,
  };
  const widths =
    q || bandwidth ? [...(q ?? []), ...(bandwidth ?? []).map((text) => `bandwidth ${text}`)] : undefined;
  const several = { frequency, q: widths, 'shelf-q': shelfQ, slope, gain, grid };
  const all: Readonly<Record<string, Texts | undefined>> = {
    ...Object.fromEntries(
      Object.entries({ ...single, 'type-order': typeOrder }).map(([id, text]) => [
        id,
        text === undefined ? undefined : [text],
      ]),
    ),
    ...several,
    ...addresses.value,
    ...encodings.value,
  };
  return ok(
    Object.fromEntries(
      Object.entries(all).filter((entry): entry is [string, Texts] => entry[1] !== undefined),
    ),
  );
};

const loadFrom = async (from: string | undefined): Promise<Outcome<Target | null>> =>
  from === undefined ? ok(null) : loadTarget(from);

/** The id a target has after its file. */
const idAfter = (file: string): string =>
  (file.split(/[\\/]/).at(-1) ?? '')
    .replace(/\.\w+$/, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^[^a-z]+|-+$/g, '')
    .slice(0, 64) || 'our-desk';

/** A path that is no id: targets are told apart by that. */
const asPath = (file: string): string => (/[\\/]/.test(file) ? file : `./${file}`);

/** The work of `bandwright targets new`. */
export const runNewTarget = async (
  file: string,
  options: NewTargetOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const { from, json } = options;
  const target = await loadFrom(from);
  const flags = flagsIn(options);
  if (!target.ok) return stopOn(target.error, terminal, json === true);
  if (!flags.ok) return stopOn(flags.error, terminal, json === true);
  const isFile = from !== undefined && /[\\/.]/.test(from);
  const path = asPath(file);
  const making = {
    command: 'targets new',
    builder: targetBuilder(idAfter(file), target.value),
    flags: flags.value,
    file,
    inputs: isFile ? [from] : [],
    options,
    finish: (draft: TargetDraft): Outcome<{ readonly document: Target; readonly toKnow: Texts }> => {
      const desk = readBack(contentFor(file, targetOf(draft)), file);
      if (!desk.ok) return desk;
      const { problems, notices } = lintDesk(desk.value);
      if (problems.length > 0) return fail(problems);
      const open = draft.told.flatMap(({ role, of, open: told }) =>
        told === null ? [] : [`${role} of ${of}: ${told}`],
      );
      const { id, evidence = {} } = target.value ?? {};
      const lost = Object.values(evidence).some((state) => state !== 'untested')
        ? [`evidence: what was tried with ${id} is not taken over; write it down where it holds here too.`]
        : [];
      return ok({
        document: desk.value.target,
        toKnow: [...open, ...lost, ...notices.map(({ path: at, message }) => `${at}: ${message}`)],
      });
    },
    next: [
      ['bandwright', 'targets', 'show', path],
      ['bandwright', 'check', '--target', path],
      ['bandwright', 'recipe', 'show.json', '--target', path],
    ],
  };
  return makeByAsking(making, terminal);
};
