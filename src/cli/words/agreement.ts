import { hang, wrap } from '../../layout/wrap.js';
import type { ProposedMix } from '../../live/write/write-mixes.js';
import { type Problem, problem } from '../../model/problem.js';
import { ask } from '../../node/ask.js';
import type { Proposal } from '../../node/desk/write-desk.js';
import { placeText } from '../../node/network/unreachable.js';
import { printable } from '../../units/quote.js';
import type { Interruption } from './conversation.js';
import { pathLine } from './copyable.js';
import { shortfallLines } from './shortfall.js';
import { slotPhrase } from './slot-phrase.js';
import { messageColumns, type Terminal } from './terminal.js';

/** How somebody agrees to what is about to be done. */
export type Agreement<Proposed = Proposal> = (
  proposal: Proposed,
  interruption: Interruption,
) => Promise<boolean>;

export const caution =
  'Mute, or have performers take their in-ears out, before you go on: filters are about to switch. Start low afterwards. This is not hearing protection.';

/** A mix by its outputs and its name. */
const mixHead = ({ name, outputs }: ProposedMix): string =>
  `${outputs.join('/').padEnd(7)} ${printable(name)}`;

/** What will change, slot by slot: what stands there, and what it becomes. */
const changeLines = (mix: ProposedMix, columns: number): readonly string[] => [
  mixHead(mix),
  ...mix.slots.flatMap(({ output, slot, now, becomes, besides }) => {
    const legs = mix.slots.some((other) => other.output !== output);
    const name = `slot ${slot}${legs ? `, output ${output}` : ''}`;
    const [was, will] = [slotPhrase(now), slotPhrase(becomes)];
    const others = Object.entries(besides).map(([parameter, text]) => `${parameter} ${text}`);
    if (was === will && others.length === 0) return [`  ${name}: stands so already`];
    return [
      `  ${name}`,
      ...hang('    now   ', was, columns),
      ...hang('    then  ', will, columns),
      ...(others.length > 0
        ? hang('    and   ', `kept for other filters: ${others.join(', ')}`, columns)
        : []),
    ];
  }),
];

/** How many filters act now that another one takes the place of, or whose knobs are turned. */
const replacedCount = (mixes: readonly ProposedMix[]): number =>
  mixes
    .filter(({ state }) => state === 'to-write')
    .flatMap(({ slots }) => slots)
    .filter(({ now, becomes }) => now?.on === 'on' && slotPhrase(now) !== slotPhrase(becomes)).length;

const replacedLines = (
  mixes: readonly ProposedMix[],
  { columns, colours }: Pick<Terminal, 'columns' | 'colours'>,
): readonly string[] => {
  const count = replacedCount(mixes);
  if (count === 0) return [];
  const told = `${count} filter${count === 1 ? ' that is ON now is' : 's that are ON now are'} changed. Is one of them in use? Say no, and make the recipe anew with other slots to be taken: a rig lists them in freeSlots.`;
  return wrap(told, columns).map((line) => colours.bold(line));
};

const journalLines = ({ journal }: Proposal, columns: number): readonly string[] =>
  journal === null
    ? wrap('This desk cannot be read: what stands there is not kept, and nothing is proved.', columns, '  ')
    : [
        ...wrap('Before anything is written, what stands there now will be kept in', columns),
        pathLine(journal),
      ];

/** What is out of the ordinary about a restore. */
const restoreWarnings = ({ madeAt, isChanged }: Proposal): readonly string[] => [
  ...(madeAt === null
    ? []
    : [
        `It was found on another desk, at ${placeText(madeAt.host, madeAt.port)}: is this the one that is meant?`,
      ]),
  ...(isChanged ? ['The journal was changed since it was written.'] : []),
];

const summary = (proposal: Proposal, terminal: Terminal): readonly string[] => {
  const columns = messageColumns(terminal);
  const { colours } = terminal;
  const { purpose, destination, mixes } = proposal;
  const inState = (state: ProposedMix['state']) => mixes.filter((mix) => mix.state === state);
  const withRecipe = mixes.flatMap(({ name, guard, missing }) =>
    guard === undefined || missing === undefined ? [] : [{ name, guard, missing }],
  );
  return [
    ...wrap(`${purpose === 'push' ? 'To be written' : 'To be put back'} on ${destination}:`, columns),
    ...restoreWarnings(proposal).flatMap((text) => wrap(text, columns).map((line) => colours.bold(line))),
    '',
    ...inState('to-write').flatMap((mix) => changeLines(mix, columns)),
    ...inState('stands-so').map((mix) => `${mixHead(mix)}: stands so already`),
    ...inState('unread').flatMap((mix) => [
      `${mixHead(mix)}: not written to`,
      ...mix.problems.flatMap(({ message }) => hang('  ', message, columns)),
    ]),
    '',
    ...shortfallLines(withRecipe, columns),
    ...(purpose === 'push' ? replacedLines(mixes, { columns, colours }) : []),
    ...journalLines(proposal, columns),
    ...wrap(caution, columns).map((line) => colours.bold(line)),
  ];
};

/** How the user is asked; `refusal` is what is wrong with the command line where nobody can be. */
export interface Consent<Proposed = Proposal> {
  readonly agree: Agreement<Proposed>;
  readonly refusal: Problem | null;
}

/** How what is about to be done is told, and what is asked then. */
export interface Asked<Proposed> {
  lines(proposal: Proposed): readonly string[];
  question(proposal: Proposed): string;
}

/**
 * How the user agrees to something: asked on a terminal, after being shown all of it, or told by --yes. Where nobody can be
 * asked nothing is written; --yes is asked for last, when all else is right.
 */
export const consent = <Proposed>(
  { yes }: { readonly yes?: boolean },
  inputIsTaken: boolean,
  terminal: Terminal,
  { lines, question }: Asked<Proposed>,
): Consent<Proposed> => {
  const isAsked = terminal.canAsk && !inputIsTaken;
  const told =
    'Nobody can be asked here, for standard input or error is no terminal, or the file comes from there. Nothing was written. Add --yes to write without being asked.';
  return {
    refusal: yes || isAsked ? null : problem('usage', '--yes', told),
    agree: async (proposal, { signal, interrupt }) => {
      for (const line of lines(proposal)) terminal.err(line);
      if (yes || !isAsked) return yes === true;
      return ask(question(proposal), signal, interrupt);
    },
  };
};

/** How the user agrees to what a push or a restore is about to write. */
export const agreement = (
  flags: { readonly yes?: boolean },
  inputIsTaken: boolean,
  terminal: Terminal,
): Consent =>
  consent(flags, inputIsTaken, terminal, {
    lines: (proposal) => summary(proposal, terminal),
    question: ({ purpose, mixes }) => {
      const count = mixes.filter(({ state }) => state === 'to-write').length;
      return `${purpose === 'push' ? 'Write' : 'Put back'} ${count} mix${count === 1 ? '' : 'es'}? [y/N] `;
    },
  });
