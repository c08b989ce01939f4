import { describe, expect, it } from 'vitest';
import { randomFrequencyDesk } from './random-desks.js';
import { compare, recover } from './recover.js';
import { ruleKinds, told } from './recovery.js';
import { randomFrom, show } from './simulated-desk.js';

/** One digit off by one, or two digits next to each other swapped. */
const slipOf = (random: () => number): ((shown: string) => string) => {
  const [isSwap, where, isUp] = [random() < 0.5, random(), random() < 0.5];
  return (shown) => {
    const letters = [...shown];
    const digits = letters.flatMap((letter, at) => (/\d/.test(letter) ? [at] : []));
    const at = Math.min(Math.floor(where * digits.length), digits.length - 2);
    const [here = 0, next = 0] = digits.slice(at);
    if (isSwap) [letters[here], letters[next]] = [letters[next] ?? '', letters[here] ?? ''];
    else letters[here] = String((Number(letters[here]) + (isUp ? 1 : 9)) % 10);
    return letters.join('');
  };
};

const withoutZeros = (text: string): string => text.replace(/\.?0*(k?)$/, '$1');

describe('one false reading, the third, fourth or fifth', () => {
  /**
   * Of knobs that follow a rule: in a list anything may stand anywhere, so that no reading contradicts another. A slip makes
   * no difference where the knob has what was typed too, and nobody counted to it.
   */
  it('is named, and what is left in the end is what the desk has', () => {
    const unnamed: string[] = [];
    const wrong: string[] = [];
    let slipped = 0;
    for (let seed = 1000; seed < 1064; seed++) {
      const desk = randomFrequencyDesk(seed);
      if (!ruleKinds.includes(desk.kind)) continue;
      const random = randomFrom(Math.imul(seed + 1, 2654435761));
      for (let skipped = 0; skipped < 3; skipped++) random();
      const reading = 2 + Math.floor(random() * 3);
      const slip = slipOf(random);
      let [shown, typed] = ['', ''];
      const recovery = recover(desk, {
        reading,
        wrong: (right) => {
          [shown, typed] = [right, slip(right)];
          return typed;
        },
      });
      const { taken, slippedAt } = recovery.engineer;
      const isCounted = taken[slippedAt ?? 0]?.link !== '..';
      const isElsewhere = desk.values.some((value) => show(value, desk.display) === typed);
      if (typed === shown || (isElsewhere && !isCounted)) continue;
      slipped += 1;
      const named = recovery.stages.flatMap(({ learned: { suspects } }) =>
        suspects.map((suspect) => withoutZeros(suspect.reading.text)),
      );
      if (!named.includes(withoutZeros(typed))) unnamed.push(told(seed, recovery));
      if (!['exact', 'within a digit'].includes(compare(recovery.learned.candidates[0], desk)))
        wrong.push(told(seed, recovery));
    }
    expect(slipped).toBeGreaterThan(25);
    expect(unnamed.length, unnamed.join('\n')).toBeLessThanOrEqual(0.05 * slipped);
    expect(wrong.length, wrong.join('\n')).toBeLessThanOrEqual(0.05 * slipped);
  });
});
