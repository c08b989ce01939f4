import { type Knob, knobNames } from '../../../model/knob.js';
import type { Display } from '../../../model/target.js';
import { ok, type Result } from '../../../units/result.js';
import { type GuidedQuestion, heard } from '../../guided/builder.js';
import { displayFor, displayOf, parseDisplay } from '../../words/typed-display.js';
import { acceptTarget, asBefore } from './desk-questions.js';
import { checkedTarget, type TargetDraft } from './target-draft.js';

/** Knobs whose values a screen shows, with what was seen of them. */
const shownBy = (draft: TargetDraft): ReadonlyMap<Knob, readonly string[]> => {
  const shown = new Map<Knob, readonly string[]>();
  for (const { knob, reference, shown: texts } of draft.told) {
    if (typeof reference === 'string') shown.set(knob, [...(shown.get(knob) ?? []), ...texts]);
  }
  return shown;
};

/** How the desk shows values: as they were read, as examples tell, or with digits enough to tell steps apart. */
const displayTold = (draft: TargetDraft, told: Display): Result<Display, string> => {
  const desk = checkedTarget(draft);
  if (!desk.ok) return desk;
  const types = desk.value.slots.flatMap((slot) => [...slot.types.values()]);
  const shown = shownBy(draft);
  const entries = knobNames.flatMap((knob) => {
    const grids = types.flatMap(({ grids: all }) => all[knob] ?? []);
    if (grids.length === 0) return [];
    const seen = displayOf(knob, shown.get(knob) ?? []);
    return [[knob, told[knob] ?? seen ?? displayFor(knob, [...new Set(grids)])] as const];
  });
  return ok(Object.fromEntries(entries));
};

/** Asks how values are shown that nobody has read off a screen. */
export const displayQuestion = (draft: TargetDraft): GuidedQuestion<TargetDraft> => {
  const desk = checkedTarget(draft);
  const seen = shownBy(draft);
  const turned = desk.ok
    ? knobNames.filter(
        (knob) =>
          knob !== 'slope' &&
          !seen.get(knob)?.length &&
          desk.value.slots.some(({ types }) => [...types.values()].some(({ grids }) => grids[knob])),
      )
    : [];
  const samples: Readonly<Record<Knob, string>> = {
    frequency: '19.32 kHz',
    q: '8.00',
    bandwidth: '0.33 oct',
    gain: '-15.0 dB',
    slope: '12 dB/oct',
  };
  const example = turned.map((knob) => samples[knob]).join(', ') || samples.frequency;
  const { from } = draft;
  return {
    id: 'display',
    flag: '--display',
    words: `How does the screen show values? One of each: ${turned.join(', ') || 'frequency'}`,
    usual: from && draft.kept ? asBefore : 'not known',
    usualWords:
      from && draft.kept ? `as in ${from.id}` : turned.length === 0 ? 'as they were read' : 'not known',
    example,
    take: (text) => {
      if (text === asBefore && from) return heard({ ...draft, display: from.display });
      const told = text === 'not known' ? ok({}) : parseDisplay(text, [...turned, ...seen.keys()]);
      if (!told.ok) return told;
      const display = displayTold(draft, told.value);
      return display.ok ? acceptTarget({ ...draft, display: display.value }) : display;
    },
  };
};
