import { type Command, Option } from 'commander';
import { type TypedKnobs, typedDesk } from '../../analysis/reach/typed-desk.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { formatFrequency } from '../../units/format.js';
import { parseFrequency, parseGain, parseQ } from '../../units/parse.js';
import { type Db, type Hz, hz } from '../../units/quantity.js';
import { fail, ok, type Result } from '../../units/result.js';
import type { NamedDesk } from '../words/load-desk.js';
import { parsedBy } from '../words/options.js';

/** What was read off a desk's screen, in place of a file that describes it. */
export interface TypedOptions {
  readonly frequencies?: readonly Hz[];
  readonly q?: TypedKnobs['q'];
  readonly gain?: Db;
}

/** Every value of a list by commas, or by spaces before numbers: `18.67k 19.32 kHz`. */
const each =
  <Value>(parse: (text: string) => Result<Value, string>) =>
  (text: string): Result<readonly Value[], string> => {
    const parts = /[,;]/.test(text) ? text.split(/[,;]/) : text.trim().split(/\s+(?=[+\-\u2212.\d])/);
    const values: Value[] = [];
    for (const part of parts) {
      const parsed = parse(part.trim());
      if (!parsed.ok) return parsed;
      values.push(parsed.value);
    }
    return ok(values);
  };

/** Values of Q, or from one to another: `4 5.6 8`, `0.4..12`. */
const parseQs = (text: string): Result<TypedKnobs['q'], string> => {
  const [from, to, ...more] = text.split('..');
  if (from === undefined || to === undefined) return each(parseQ)(text);
  const [least, most] = [parseQ(from), parseQ(to)];
  if (!least.ok) return least;
  if (!most.ok) return most;
  return more.length > 0 || least.value >= most.value
    ? fail(`"${text}" goes from nowhere up; write the least and the most, as in 0.4..12`)
    : ok({ from: least.value, to: most.value });
};

const usualQs = { from: 0.5, to: 10 };
const usualGainDb = -15;
/** Half the lowest sample rate it is worked out for. */
const beyondHz = hz(24000);

export const addTypedOptions = (command: Command): Command =>
  command
    .addOption(
      new Option(
        '--frequencies <list>',
        'instead of a desk: what its screen shows next to the pilot, as in 18.67k,19.32k',
      )
        .argParser(parsedBy(each(parseFrequency)))
        .conflicts('target'),
    )
    .addOption(
      new Option(
        '--q <list|from..to>',
        `with them: the Q it takes (default: ${usualQs.from}..${usualQs.to})`,
      ).argParser(parsedBy(parseQs)),
    )
    .addOption(
      new Option('--gain <dB>', `with them: the gain (default: ${usualGainDb} dB)`).argParser(
        parsedBy(parseGain),
      ),
    );

const optionOf: Readonly<Record<string, string>> = { frequency: '--frequencies', q: '--q', gain: '--gain' };

/** Problems of the desk made from what was typed, at the options that were typed. */
const atOptions = (problems: readonly Problem[]): readonly Problem[] =>
  problems.map((each) => ({
    ...each,
    code: 'usage',
    path: optionOf[each.path.split('.').at(-1) ?? ''] ?? each.path,
  }));

/** The desk that was typed; null where none was. */
export const deskTyped = ({
  frequencies,
  q = usualQs,
  gain = usualGainDb as Db,
}: TypedOptions): Outcome<NamedDesk> | null => {
  if (!frequencies) return null;
  const beyond = frequencies.find((frequencyHz) => frequencyHz >= beyondHz);
  if (beyond !== undefined) {
    const told = `${formatFrequency(beyond)} is beyond what a desk at 48 kHz can build a filter at, half of that; give what its screen shows below ${formatFrequency(beyondHz)}.`;
    return fail([problem('usage', '--frequencies', told)]);
  }
  const desk = typedDesk({ frequenciesHz: frequencies, q, gainDb: gain });
  return desk.ok ? ok({ name: desk.value.target.id, desk: desk.value }) : fail(atOptions(desk.error));
};
