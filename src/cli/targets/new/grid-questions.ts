import { displayValue } from '../../../model/display.js';
import type { Knob } from '../../../model/knob.js';
import type { Quantiser, QuantiserSpec } from '../../../quantisers/quantiser.js';
import { makeQuantiser } from '../../../quantisers/registry.js';
import { step } from '../../../units/quantity.js';
import { fail, ok, type Result } from '../../../units/result.js';
import { type GuidedQuestion, heard, type Taken } from '../../guided/builder.js';
import { nextWords, type ReadOff, readOff, sampleShown, withMore } from '../../words/readings.js';
import { displayFor } from '../../words/typed-display.js';
import { type GridRole, gridName, type Need, type ToldGrid } from './needs.js';
import { checkedTarget, quantisersOf, type TargetDraft } from './target-draft.js';
import { isReadings, parseGrid, spacingWords } from './typed-grid.js';

type Answered = Result<Taken<TargetDraft>, string>;

/** A knob is as the one before it. */
const same = 'same';
/** A shelf has no such knob. */
const none = 'none';

const roleWords: Readonly<Record<GridRole, string>> = {
  frequency: 'Frequency',
  width: 'Width, as Q or in octaves,',
  shelf: 'Q of the shelf, if it has one, ',
  steepness: 'Slope',
  gain: 'Gain',
};

/** The option that answers for a role, by the id of its question. */
const flags: Readonly<Record<GridRole, string>> = {
  frequency: 'frequency',
  width: 'q',
  shelf: 'shelf-q',
  steepness: 'slope',
  gain: 'gain',
};

const examples: Readonly<Record<GridRole, string>> = {
  frequency: '20 to 20000 Hz in 201 steps',
  width: '0.4 to 10 in 41 steps',
  shelf: none,
  steepness: '12 18 24',
  gain: '0.5 dB from -15 to 15',
};

/** Which knob an answer is about, and the answer without what says so. */
const knobIn = (text: string, role: GridRole): readonly [Knob, string] => {
  const [, named, rest = text] = /^(bandwidth|q|slope)\b\s*:?\s*(?=\S)(.*)$/i.exec(text) ?? [];
  const word = named?.toLowerCase();
  if (role === 'frequency' || role === 'gain') return [role, text];
  if (role === 'width' && (word === 'bandwidth' || /\boct/i.test(text))) {
    return ['bandwidth', word === 'bandwidth' ? rest : text];
  }
  const isQ = role !== 'steepness' || word === 'q';
  return [isQ ? 'q' : 'slope', named === undefined ? text : rest];
};

const valueWords = (knob: Knob, grid: Quantiser): string => {
  const display = { [knob]: displayFor(knob, [grid]) };
  const at = (index: number): string => displayValue(knob, grid.valueAt(step(index)), display);
  const { count } = grid;
  if (count <= 4) return Array.from({ length: count }, (_, index) => at(index)).join(', ');
  return `${at(0)}, ${at(1)}, ${at(2)} and so on to ${at(count - 1)}`;
};

/** What a grid was understood to be, under a name. */
export const gridWords = (knob: Knob, spec: QuantiserSpec | number, name: string = knob): string => {
  if (typeof spec === 'number') return `${name}: fixed at ${displayValue(knob, spec, {})}`;
  const made = makeQuantiser(spec);
  if (!made.ok) return made.error;
  const spacing = spacingWords(spec, knob);
  return `${name}: ${made.value.count} values: ${valueWords(knob, made.value)}${spacing === null ? '' : ` (${spacing})`}`;
};

/** A grid that is told, where a desk with it is none that cannot be. */
const withGrid = (
  draft: TargetDraft,
  need: Need,
  grid: Omit<ToldGrid, 'reference' | 'role' | 'of'> & { readonly value: QuantiserSpec | number },
): Answered => {
  const { value, ...rest } = grid;
  const name = gridName(grid.knob, need, Object.keys(quantisersOf(draft)));
  const told: ToldGrid =
    typeof value === 'number'
      ? { ...need, ...rest, reference: value }
      : { ...need, ...rest, reference: name, spec: value };
  const changed = { ...draft, told: [...draft.told, told], readings: null };
  const good = checkedTarget(changed);
  const lines = [gridWords(grid.knob, value), ...(grid.open === null ? [] : [grid.open])];
  return good.ok ? heard<TargetDraft>(changed, ...lines) : fail(good.error);
};

/** What is left open where a grid is taken before it is settled; null where nothing is. */
const openWords = ({ learned }: ReadOff): string | null => {
  const [first, ...others] = learned.candidates;
  if (!first || learned.isSettled) return null;
  const wrong = learned.suspects.map(({ reading }) => reading.text).join(', ');
  return [
    'not settled:',
    ...(wrong === '' ? [] : [`${wrong} was left out, since it fits nothing;`]),
    others.length === 0 && !learned.areMore
      ? 'no further reading has confirmed it'
      : `other grids explain what was read too, and the simplest was taken`,
  ].join(' ');
};

const taken = (draft: TargetDraft, need: Need, knob: Knob, read: ReadOff): Answered => {
  const [best] = read.learned.candidates;
  if (!best) return fail('No grid that is known here explains what was read; read more, or say its rule.');
  const shown = read.readings.readings.map(({ text }) => text);
  return withGrid(draft, need, {
    knob,
    value: best.spec,
    shown,
    open: openWords(read),
    isFromReadings: true,
  });
};

/** What was read so far: the grid, where that settles it, else one more question. */
const withReadings = (draft: TargetDraft, need: Need, knob: Knob, text: string): Answered => {
  const read = readOff(text, knob);
  if (!read.ok) return read;
  const { isSettled, next } = read.value.learned;
  if (isSettled || next === null) return taken(draft, need, knob, read.value);
  return ok({ state: { ...draft, readings: `${knob} ${text}` } });
};

/** Asks for what would settle most, until the grid is settled or somebody has had enough. */
export const moreReadings = (draft: TargetDraft, need: Need): GuidedQuestion<TargetDraft> | null => {
  const [, word = 'q', text = ''] = /^(\w+) (.*)$/s.exec(draft.readings ?? '') ?? [];
  const knob = word as Knob;
  const read = readOff(text, knob);
  const next = read.ok ? read.value.learned.next : null;
  if (!read.ok || !next) return null;
  const { candidates, areMore } = read.value.learned;
  const [best] = candidates;
  const isFar = next.do.kind === 'clicks' && Math.abs(next.do.clicksUp) > 1;
  const left = areMore ? 'Many grids' : candidates.length === 1 ? 'One grid' : `${candidates.length} grids`;
  return {
    id: 'more-readings',
    flag: `--${flags[need.role]}`,
    words: nextWords(next, knob),
    notes: [
      ...(best ? [`${left} would do; the simplest: ${gridWords(knob, best.spec)}.`] : []),
      ...(isFar ? ['Where it stops sooner, say after how many clicks, as in: 7 clicks up 600 top'] : []),
    ],
    // A knob whose end nobody has seen has no grid yet.
    ...(best && best.openEnds.length === 0 ? { usual: none, usualWords: 'enough, take the simplest' } : {}),
    example: sampleShown[knob],
    flagExample: withMore(text, read.value, 'VALUE'),
    take: (typed) =>
      typed === none && best?.openEnds.length === 0
        ? taken(draft, need, knob, read.value)
        : withReadings(draft, need, knob, withMore(text, read.value, typed)),
  };
};

const howTo =
  'Read values off the knob a click apart, and say where it stops, as in: 20.0 20.6 21.2 stop. Or say its rule: 20 to 20000 in 201 steps; 0.5 from -15 to 15; 1/6 octave; all 12 18 24. One number is a value that cannot be turned.';

/** Asks for a grid that is not told yet. */
export const gridQuestion = (draft: TargetDraft, need: Need): GuidedQuestion<TargetDraft> => {
  const { role, of } = need;
  // The first has the widest range where ranges differ: a bell goes everywhere, a cut does not.
  const before = draft.told.find((each) => each.role === role);
  const usual = before
    ? { usual: same, usualWords: `as the ${before.of} has it` }
    : role === 'shelf'
      ? { usual: none, usualWords: 'it has none' }
      : {};
  return {
    id: flags[role],
    flag: `--${flags[role]}`,
    words: `${roleWords[role]} of the ${of}: how does it step?`,
    notes: draft.told.length === 0 ? [howTo] : [],
    ...usual,
    example: examples[role],
    take: (text) => {
      if (before && text === same) {
        const { spec, ...again } = before;
        return heard({ ...draft, told: [...draft.told, { ...again, role, of, shown: [], open: null }] });
      }
      if (role === 'shelf' && text === none) {
        const told = { role, of, knob: 'q' as const, reference: null, shown: [], open: null };
        return heard({ ...draft, told: [...draft.told, { ...told, isFromReadings: false }] });
      }
      const [knob, rest] = knobIn(text, role);
      // Slopes in a row are all there are, unless something says how they were read.
      const isRead = isReadings(rest) && (knob !== 'slope' || /\b(stop|clicks?|top|bottom)\b/i.test(rest));
      if (isRead) return withReadings(draft, need, knob, rest);
      const grid = parseGrid(rest, knob);
      if (!grid.ok) return grid;
      return withGrid(draft, need, { knob, value: grid.value, shown: [], open: null, isFromReadings: false });
    },
  };
};
