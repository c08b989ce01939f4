import type { Knob } from '../../../model/knob.js';
import { quoteText } from '../../../units/quote.js';
import { fail } from '../../../units/result.js';
import { type GuidedQuestion, heard } from '../../guided/builder.js';
import { gridWords } from './grid-questions.js';
import { checkedTarget, type TargetDraft } from './target-draft.js';
import { parseGrid } from './typed-grid.js';

/** Every grid is right as it is. */
const none = 'none';

const usersOf = (
  name: string,
  { slots }: Pick<NonNullable<TargetDraft['kept']>, 'slots'>,
): Knob | undefined =>
  slots
    .flatMap((slot) => Object.values(slot.types))
    .flatMap((type) => Object.entries(type) as [Knob, unknown][])
    .find(([, reference]) => reference === name)?.[0];

/** Asks which grids of the target it was started from are otherwise here. */
export const keptGridsQuestion = (draft: TargetDraft): GuidedQuestion<TargetDraft> => {
  const kept = draft.kept ?? { slots: [], quantisers: {} };
  const names = Object.keys(kept.quantisers);
  const name = names[0] ?? '';
  return {
    id: 'grid',
    flag: '--grid',
    words: 'Which grid is otherwise here?',
    notes: [
      ...names.map((each) => {
        const spec = kept.quantisers[each];
        return `  ${spec ? gridWords(usersOf(each, kept) ?? 'q', spec, each) : each}`;
      }),
      'Its name, and how it steps, as in: frequency: 20 to 20000 in 201 steps',
    ],
    usual: none,
    usualWords: 'none, they are right',
    example: `${name}: 20 to 20000 in 201 steps`,
    take: (text) => {
      if (text === none) return heard({ ...draft, areKeptGridsTold: true });
      const [, called = '', told = ''] = /^([^:=]+)[:=](.*)$/s.exec(text) ?? [];
      const knob = names.includes(called.trim()) ? usersOf(called.trim(), kept) : undefined;
      if (knob === undefined) {
        return fail(
          `${quoteText(text)} names no grid here; write one of ${names.join(', ')}, a colon, and how it steps.`,
        );
      }
      const grid = parseGrid(told, knob);
      if (!grid.ok) return grid;
      if (typeof grid.value === 'number') {
        return fail(`${quoteText(text)} is one number; to fix the knob, tell the slots anew.`);
      }
      const quantisers = { ...kept.quantisers, [called.trim()]: grid.value };
      const changed = { ...draft, kept: { ...kept, quantisers } };
      const good = checkedTarget(changed);
      return good.ok
        ? heard<TargetDraft>(changed, gridWords(knob, grid.value, called.trim()))
        : fail(good.error);
    },
  };
};
