import { hang, wrap } from '../../layout/wrap.js';
import type { GridLearned } from '../../live/learn/found.js';
import type { Desk } from '../../model/desk.js';
import { displayValue } from '../../model/display.js';
import { knobNames } from '../../model/knob.js';
import { typeWords } from '../../model/words.js';
import type { LearnProposal, LearnReport } from '../../node/desk/learn.js';
import type { QuantiserSpec } from '../../quantisers/quantiser.js';
import { makeQuantiser } from '../../quantisers/registry.js';
import { stepsAround } from '../../quantisers/snap.js';
import { step } from '../../units/quantity.js';
import { printable, quote } from '../../units/quote.js';
import { caution } from '../words/agreement.js';
import { pathLine } from '../words/copyable.js';
import { reportLines } from '../words/report-lines.js';
import { slotPhrase } from '../words/slot-phrase.js';
import { messageColumns, type Terminal } from '../words/terminal.js';

const outputWords = ({ output, name }: Pick<LearnProposal, 'output' | 'name'>): string =>
  name === null ? `output ${output}` : `output ${output}, ${quote(name)}`;

/** The grids of a target that nothing was found out about. */
const missing = ({ target }: Desk, { findings }: LearnReport): readonly string[] =>
  Object.keys(target.quantisers).filter((name) => !findings.grids.has(name));

/** How it is kept from being heard. */
const silence = ({ target }: Desk): string =>
  target.osc?.addresses.on === undefined
    ? 'The target has no address of a switch: only frequency and width are turned, and only of sections whose gain reads 0 dB'
    : 'Each section goes off before its knobs are turned';

/** What is about to be turned, for whoever is asked. */
export const proposalLines = (proposal: LearnProposal, desk: Desk, terminal: Terminal): readonly string[] => {
  const columns = messageColumns(terminal);
  const { partner, slots, destination, journal } = proposal;
  const names = Object.keys(desk.target.quantisers).join(', ');
  const on = slots.filter(({ now }) => now?.on === 'on').length;
  const warnings = [
    ...(on > 0
      ? [
          `${on} of its filters ${on === 1 ? 'is' : 'are'} ON and will be switched off for a while. Is this output in use? Say no, and name one that feeds nobody.`,
        ]
      : []),
    ...(partner === null
      ? []
      : [
          `By the target it shares its filters with output ${partner}: that one goes along, is only read, and has to be spare too.`,
        ]),
  ];
  return [
    ...wrap(
      `To be turned on ${destination}: the knobs of ${outputWords(proposal)}, ${partner === null ? 'and of no other' : `and by the target those of output ${partner} with them`}.`,
      columns,
    ),
    ...slots.flatMap(({ slot, now }) => hang(`  slot ${slot}  `, slotPhrase(now), columns)),
    '',
    ...wrap(
      `${silence(desk)}, to find out ${names}; then all is put back as it was found, and read back.`,
      columns,
    ),
    ...warnings.flatMap((text) => wrap(text, columns).map((line) => terminal.colours.bold(line))),
    ...wrap('Before anything is written, what stands there now will be kept in', columns),
    pathLine(journal),
    ...wrap(caution, columns).map((line) => terminal.colours.bold(line)),
  ];
};

/** From where to where a grid goes, as the desk would show it. */
const range = (spec: QuantiserSpec, { knob }: GridLearned, { target }: Desk): string => {
  const made = makeQuantiser(spec);
  if (!made.ok) return '';
  const [first, last] = [0, made.value.count - 1].map((index) =>
    displayValue(knob, made.value.valueAt(step(index)), target.display),
  );
  return `, ${first} to ${last}`;
};

const pilotHz = 19_000;

/** What of a frequency lies next to the pilot. */
const besidePilot = (spec: QuantiserSpec, { knob }: GridLearned, { target }: Desk): readonly string[] => {
  const made = makeQuantiser(spec);
  if (knob !== 'frequency' || !made.ok) return [];
  const { below, at, above } = stepsAround(made.value, pilotHz);
  const shown = [below, at, above]
    .filter((each) => each !== null)
    .map((each) => displayValue(knob, made.value.valueAt(each), target.display));
  return shown.length === 0 ? [] : [`next to the pilot: ${shown.join(', ')}`];
};

const sureWords = ({ isWhole, right, tells, knob }: GridLearned, { target }: Desk): string => {
  if (isWhole) return 'every one was seen';
  const isCounted = tells === 'steps' && target.osc?.encodings[knob]?.as === 'index';
  return isCounted ? 'the last is taken, and none beyond it' : `${right} told beforehand came so, in a row`;
};

const elsewhere = (name: string, { findings: { checks } }: LearnReport): readonly string[] => {
  const own = checks.filter((check) => check.name === name);
  const wrong = own.filter(({ agrees }) => !agrees);
  if (own.length === 0) return [];
  if (wrong.length === 0) {
    const slots = [...new Set(own.map(({ slot }) => slot))].join(', ');
    return [
      `looked at ${own.length} time${own.length === 1 ? '' : 's'} elsewhere, slots ${slots}: as learned`,
    ];
  }
  return wrong.map(
    ({ slot, type, text }) =>
      `slot ${slot}${type === null ? '' : ` as ${typeWords[type]}`} reads ${text}, which is none of its steps: give that slot a grid of its own in the target, and learn again`,
  );
};

/** What to do where a desk tells which step a knob stands at, and not at which value. */
const readingsCommand = ({ knob, count }: GridLearned): string =>
  `bandwright learn ${knob}${count === null ? '' : ` --steps ${count}`} --readings "..."`;

const gridLines = (
  grid: GridLearned,
  report: LearnReport,
  desk: Desk,
  columns: number,
): readonly string[] => {
  const { name, spec, count, open, tells, others, messages } = grid;
  const word = open !== null ? 'OPEN' : tells === 'steps' ? 'COUNTED' : 'LEARNED';
  const steps = count === null ? '' : `${count} step${count === 1 ? '' : 's'}`;
  const what =
    open !== null
      ? open
      : tells === 'steps'
        ? `${steps}, ${sureWords(grid, desk)}`
        : `${steps}${spec ? range(spec, grid, desk) : ''}; ${sureWords(grid, desk)}`;
  const details = [
    ...(open === null && tells === 'steps'
      ? [
          `the desk tells which step it stands at, not at which value: read a few off its screen, then ${readingsCommand(grid)}`,
        ]
      : []),
    ...(others.length > 0
      ? [
          `${others.length} other rule${others.length === 1 ? '' : 's'} would explain all that was read, the next ${JSON.stringify(others[0])}`,
        ]
      : []),
    ...(spec && open === null ? besidePilot(spec, grid, desk) : []),
    ...(open !== null && grid.readings.length > 0
      ? [
          `read: ${grid.readings.map(({ text, stop }) => (stop === null ? text : `${text} (stop)`)).join(', ')}`,
        ]
      : []),
    ...elsewhere(name, report),
    `${messages} messages, in slot ${grid.slot}${grid.type === null ? '' : ` as ${typeWords[grid.type]}`}`,
  ];
  return [
    ...hang(word.padEnd(10), `${printable(name)}: ${what}`, columns),
    ...(spec && open === null ? [`  ${JSON.stringify(spec)}`] : []),
    ...details.flatMap((detail) => hang('  ', printable(detail), columns)),
  ];
};

/** Slots that take the same types are told once. */
const typeLines = ({ findings: { types } }: LearnReport, columns: number): readonly string[] =>
  types.flatMap(({ slot, taken, refused }) => {
    const words = (some: typeof taken): string => some.map((type) => typeWords[type]).join(', ');
    const not = refused.length === 0 ? '' : `; NOT ${words(refused)}: correct the target`;
    return hang(`  slot ${slot}  `, `takes ${words(taken)}${not}`, columns);
  });

const partnerWords = { yes: 'goes along', no: 'stays as it is', 'not-known': 'told nothing clear' } as const;

const partnerLines = ({ findings: { partner } }: LearnReport, columns: number): readonly string[] => {
  if (!partner) return [];
  const { output, goesAlong } = partner;
  const advice =
    goesAlong === 'no' ? ': the target says that they share, correct outputs.stereo or outputs.pairs' : '';
  return wrap(`Output ${output}, the other leg, ${partnerWords[goesAlong]}${advice}.`, columns);
};

const countWords = ({ messages: { sent, sweep } }: LearnReport): string =>
  sweep === null
    ? `${sent} messages in all.`
    : `${sent} messages in all; trying every value of every knob of this output would have taken ${sweep}.`;

/** What was learned, for people. */
export const learnedLines = (report: LearnReport, desk: Desk, columns: number): readonly string[] => {
  const { findings, mix } = report;
  const types = typeLines(report, columns);
  return [
    ...[...findings.grids.values()].flatMap((grid) => gridLines(grid, report, desk, columns)),
    ...missing(desk, report).flatMap((name) =>
      hang('OPEN'.padEnd(10), `${printable(name)}: nothing was learned of it`, columns),
    ),
    ...(types.length > 0 ? ['', 'Types', ...types] : []),
    ...findings.left.flatMap(({ slot, parameter, why }) =>
      hang('  ', `slot ${slot}${parameter === null ? '' : `, ${parameter}`}: left alone, ${why}`, columns),
    ),
    ...partnerLines(report, columns),
    '',
    ...(mix ? reportLines([mix], 'restore', columns) : []),
    ...wrap(countWords(report), columns),
  ];
};

/** How it ended, in a sentence. */
export const endLine = (report: LearnReport): string => {
  const { result, mix, findings } = report;
  const place = outputWords(report);
  const left =
    mix === null
      ? 'nothing was written'
      : mix.state === 'put-back'
        ? `${place} reads as it was found`
        : mix.state === 'unchanged' || mix.state === 'untouched'
          ? `nothing was written to ${place}`
          : `${place} is NOT known to stand as it was found`;
  const settled = [...findings.grids.values()].filter(({ open }) => open === null).length;
  const learned = `${settled} grid${settled === 1 ? '' : 's'} found out`;
  const words = {
    done: 'Done',
    'falls-short': 'It falls short',
    interrupted: 'Interrupted',
    'desk-lost': 'The desk was lost',
    'not-agreed': 'Nothing was written',
  };
  return `${words[result]}: ${learned}, ${left}.`;
};

/** The report for programs. */
export const reportData = (report: LearnReport, desk: Desk): Record<string, unknown> => {
  const { findings, ...rest } = report;
  const { grids, checks, types, left, partner } = findings;
  const fixed = knobNames.filter((knob) => desk.target.osc?.addresses[knob] === undefined);
  return {
    ...rest,
    grids: [...grids.values()],
    notLearned: missing(desk, report),
    withoutAddress: fixed,
    checks,
    types,
    leftAlone: left,
    partner,
  };
};
