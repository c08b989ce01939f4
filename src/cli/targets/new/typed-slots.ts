import type { FilterType } from '../../../filters/filter.js';
import { typeWords } from '../../../model/words.js';
import { quoteText } from '../../../units/quote.js';
import { fail, ok, type Result } from '../../../units/result.js';

/** Slots of an output that are alike: what each can be set to. */
export interface SlotGroup {
  readonly count: number;
  readonly types: readonly FilterType[];
}

const numbers: readonly string[] = [
  ...[
    'no',
    'one',
    'two',
    'three',
    'four',
    'five',
    'six',
    'seven',
    'eight',
    'nine',
    'ten',
    'eleven',
    'twelve',
  ],
];

/** What people call filter types, without blanks and hyphens and in the singular. */
const typesByWord: ReadonlyMap<string, FilterType> = new Map(
  Object.entries({
    bell: 'peaking',
    peak: 'peaking',
    peaking: 'peaking',
    parametric: 'peaking',
    lowcut: 'highpass',
    highpass: 'highpass',
    highcut: 'lowpass',
    lowpass: 'lowpass',
    lowshelf: 'lowshelf',
    highshelf: 'highshelf',
    notch: 'notch',
    bandpass: 'bandpass',
    allpass: 'allpass',
  }),
);

const singular = (word: string): string =>
  word
    .replace(/shelves$/, 'shelf')
    .replace(/notches$/, 'notch')
    .replace(/passes$/, 'pass')
    .replace(/(?<!pas)s$/, '');

/** The type that one word or two mean: `bells`, `low cut`, `high-shelf`. */
export const parseType = (text: string): Result<FilterType, string> => {
  const type = typesByWord.get(
    singular(
      text
        .toLowerCase()
        .replace(/[\s-]+/g, '')
        .replace(/filters?$/, ''),
    ),
  );
  return type === undefined
    ? fail(`${quoteText(text)} is no type of filter; there are ${Object.values(typeWords).join(', ')}.`)
    : ok(type);
};

const mostSlots = 64;

const parseGroup = (text: string): Result<SlotGroup, string> => {
  const [, counted = 'a', rest = ''] = /^(?:(\d+|an?|[a-z]+(?=\s+\S+))\s*(?:x\s*)?)?(.*)$/i.exec(text) ?? [];
  const spelt = counted.toLowerCase();
  const isCount = /^(\d+|an?)$/.test(spelt) || numbers.includes(spelt);
  const words = isCount ? rest : text;
  const count = /^\d+$/.test(spelt) ? Number(spelt) : Math.max(1, numbers.indexOf(spelt));
  if (count < 1 || count > mostSlots) {
    return fail(`${quoteText(text)}: an output has 1 to ${mostSlots} slots of a kind.`);
  }
  const types: FilterType[] = [];
  for (const word of words.split(/\bor\b|\//i)) {
    const type = parseType(word.trim());
    if (!type.ok) return type;
    types.push(type.value);
  }
  return ok({ count, types: [...new Set(types)] });
};

/** The slots of an output, like ones at once: `4 bells, a low cut and a high cut`, `2 bells or high shelves`. */
export const parseSlots = (text: string): Result<readonly SlotGroup[], string> => {
  const groups: SlotGroup[] = [];
  for (const part of text.split(/\s*(?:[,;+&]|\band\b)\s*/i).filter(Boolean)) {
    const group = parseGroup(part.trim());
    if (!group.ok) return group;
    groups.push(group.value);
  }
  const total = groups.reduce((sum, { count }) => sum + count, 0);
  if (total > mostSlots) return fail(`${total} slots are more than an output has; at most ${mostSlots}.`);
  return groups.length > 0
    ? ok(groups)
    : fail('Nothing stands there; say what an output has, as in "4 bells, a low cut and a high cut".');
};

/** What people call the slots of a group: `bells`, `low cut`, `bells or high shelves`. */
export const groupWords = ({ types }: SlotGroup): string => types.map((type) => typeWords[type]).join(' or ');

/** What slots are usually called: numbers, and `low` and `high` for the only cut of its kind. */
export const usualNames = (groups: readonly SlotGroup[]): readonly string[] => {
  const onlyCut = (type: FilterType): SlotGroup | undefined => {
    const found = groups.filter(({ types }) => types.length === 1 && types[0] === type);
    return found.length === 1 && found[0]?.count === 1 ? found[0] : undefined;
  };
  const [low, high] = [onlyCut('highpass'), onlyCut('lowpass')];
  let number = 0;
  return groups.flatMap((group) =>
    Array.from({ length: group.count }, () => {
      if (group === low) return 'low';
      return group === high ? 'high' : String(++number);
    }),
  );
};
