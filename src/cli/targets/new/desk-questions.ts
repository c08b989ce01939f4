import { usualRealisations } from '../../../analysis/reach/typed-desk.js';
import type { Target } from '../../../model/target.js';
import { limits } from '../../../units/generated/limits.js';
import { parseCount, parseFrequency, parseOutputs } from '../../../units/parse.js';
import { type Hz, hz } from '../../../units/quantity.js';
import { quoteText } from '../../../units/quote.js';
import { fail, ok, type Result } from '../../../units/result.js';
import { type Choice, type GuidedQuestion, heard, type Taken } from '../../guided/builder.js';
import { checkedTarget, type TargetDraft } from './target-draft.js';
import { groupWords, parseSlots, usualNames } from './typed-slots.js';

type Asked = GuidedQuestion<TargetDraft>;

/** A draft with something more in it, where the reader of targets finds nothing wrong with it. */
export const acceptTarget = (
  draft: TargetDraft,
  ...lines: readonly string[]
): Result<Taken<TargetDraft>, string> => {
  const good = checkedTarget(draft);
  return good.ok ? heard(draft, ...lines) : fail(good.error);
};

/** It is as the target has it that was begun with. */
export const asBefore = 'as before';

const keepChoice = (from: Target | null): readonly Choice[] =>
  from ? [{ value: asBefore, words: `as in ${from.id}` }] : [];

export const titleQuestion = (draft: TargetDraft): Asked => ({
  id: 'title',
  flag: '--title',
  words: 'What is the desk called?',
  usual: draft.from?.title ?? draft.id,
  example: 'Our monitor desk',
  take: (text) => acceptTarget({ ...draft, title: text }),
});

export const provenanceQuestion = (draft: TargetDraft): Asked => ({
  id: 'provenance',
  flag: '--provenance',
  words: 'Whose figures are these: read off which screen, with which software, by whom, when?',
  usual: 'Typed in with bandwright targets new; from whom and which software is not told.',
  usualWords: 'not told',
  example: 'Read off the screen, software 2.1',
  take: (text) => acceptTarget({ ...draft, provenance: text }),
});

export const countQuestion = (draft: TargetDraft): Asked => ({
  id: 'outputs',
  flag: '--outputs',
  words: 'How many outputs have such filters?',
  ...(draft.from ? { usual: String(draft.from.outputs.count) } : {}),
  example: '16',
  take: (text) => {
    const count = parseCount(text);
    if (!count.ok) return count;
    if (count.value > limits.output.most) {
      return fail(`${count.value} outputs are more than are known here; at most ${limits.output.most}.`);
    }
    return heard({ ...draft, count: count.value });
  },
});

const stereoOf = (text: string, from: Target | null): Result<Omit<Target['outputs'], 'count'>, string> => {
  if (text === asBefore && from) {
    const { count, ...stereo } = from.outputs;
    return ok(stereo);
  }
  if (text === 'separate') return ok({ stereo: 'legs-separate' });
  if (text === 'odd-even') return ok({ stereo: 'legs-share' });
  if (text === 'any') return ok({ stereo: 'legs-share', pairs: 'any' });
  const pairs: string[] = [];
  for (const part of text.split(/[\s,;]+/).filter(Boolean)) {
    const pair = parseOutputs(part);
    if (!pair.ok) {
      return fail(
        `${quoteText(part)} is no pair; write odd-even, any, separate, or the pairs there are, as in "1/2, 15/16".`,
      );
    }
    pairs.push(pair.value.join('/'));
  }
  return ok({ stereo: 'legs-share', pairs });
};

export const stereoQuestion = (draft: TargetDraft): Asked => ({
  id: 'stereo',
  flag: '--stereo',
  words: 'Do the two outputs of a stereo pair have one set of filters between them?',
  usual: draft.from ? asBefore : 'odd-even',
  example: 'odd-even',
  choices: [
    ...keepChoice(draft.from),
    { value: 'odd-even', words: 'yes; pairs are 1/2, 3/4 and so on' },
    { value: 'any', words: 'yes; any two can be a pair' },
    { value: 'separate', words: 'no; each output is set by itself' },
  ],
  take: (text) => {
    const stereo = stereoOf(text, draft.from);
    return stereo.ok ? acceptTarget({ ...draft, stereo: stereo.value }) : stereo;
  },
});

export const slotsQuestion = (draft: TargetDraft): Asked => ({
  id: 'slots',
  flag: '--slots',
  words: 'Which filters does each output have?',
  notes: [
    'Like ones at once, as in: 4 bells, a low cut and a high cut. What one can be switched to: 2 bells or high shelves.',
  ],
  ...(draft.from ? { usual: asBefore, usualWords: `as in ${draft.from.id}` } : {}),
  example: '4 bells, a low cut and a high cut',
  take: (text) => {
    if (text === asBefore && draft.from) {
      const { slots, quantisers } = draft.from;
      return acceptTarget({ ...draft, kept: { slots, quantisers } });
    }
    const groups = parseSlots(text);
    if (!groups.ok) return groups;
    const lines = groups.value.map((group) => `${group.count} x ${groupWords(group)}`);
    return heard({ ...draft, groups: groups.value }, lines.join(', '));
  },
});

export const namesQuestion = (draft: TargetDraft): Asked => {
  const usual = usualNames(draft.groups ?? []).join(' ');
  return {
    id: 'slot-names',
    flag: '--slot-names',
    words: 'What does the desk call these filters, in that order?',
    usual,
    example: usual,
    take: (text) => {
      const names = text.split(/[\s,;]+/).filter(Boolean);
      const expected = usual.split(' ').length;
      if (names.length !== expected) {
        return fail(
          `${quoteText(text)} has ${names.length} names; there are ${expected} filters, each with one.`,
        );
      }
      return acceptTarget({ ...draft, names });
    },
  };
};

/** Every usual way of building filters at one sample rate, named by it. */
const atRate = (rateHz: Hz): Target['realisations'] =>
  usualRealisations
    .filter(({ sampleRateHz }) => sampleRateHz === null || sampleRateHz === 48_000)
    .map((each) =>
      each.sampleRateHz === null
        ? each
        : {
            ...each,
            id: each.id.replace('-48k', `-${String(rateHz / 1000).replace('.', 'p')}k`),
            sampleRateHz: rateHz,
          },
    );

export const rateQuestion = (draft: TargetDraft): Asked => ({
  id: 'rate',
  flag: '--rate',
  words: 'At which sample rate does the desk run?',
  notes: [
    'How it builds its filters is taken to be in any usual way at that rate: a recipe is judged by the worst.',
  ],
  usual: draft.from ? asBefore : 'not known',
  example: '48k',
  choices: [
    ...keepChoice(draft.from),
    { value: 'not known', words: 'not known', hint: '48 and 96 kHz are both worked out' },
    { value: '48k', words: '48 kHz' },
    { value: '96k', words: '96 kHz' },
    { value: 'analogue', words: 'none, it is analogue' },
  ],
  take: (text) => {
    if (text === asBefore && draft.from) {
      return acceptTarget({ ...draft, realisations: draft.from.realisations });
    }
    if (text === 'not known') return acceptTarget({ ...draft, realisations: usualRealisations });
    if (text === 'analogue') {
      const realisations = usualRealisations.filter(({ sampleRateHz }) => sampleRateHz === null);
      return acceptTarget({ ...draft, realisations });
    }
    // Nobody means 48 Hz.
    const rate = parseFrequency(/^\d+(\.\d+)?$/.test(text) && Number(text) < 1000 ? `${text}k` : text);
    return rate.ok ? acceptTarget({ ...draft, realisations: atRate(hz(rate.value)) }) : rate;
  },
});
