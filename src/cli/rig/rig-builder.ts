import type { Link, Mix, Rig, System } from '../../model/rig.js';
import { formatFrequency } from '../../units/format.js';
import { hz } from '../../units/quantity.js';
import { printable, quoteText } from '../../units/quote.js';
import { fail, type Result } from '../../units/result.js';
import { type Builder, type GuidedQuestion, heard, type Taken } from '../guided/builder.js';
import { checked, type RigDraft, rigDraft, type ToldSystem } from './rig-draft.js';
import { nextPair, parseMix, splitMixes } from './typed-mixes.js';
import {
  type AudioRange,
  analogueSystem,
  idOf,
  notKnown,
  parseLink,
  parsePreEmphasis,
  parseRange,
  parseSystem,
} from './typed-system.js';

type Asked = GuidedQuestion<RigDraft>;
type Answered = Result<Taken<RigDraft>, string>;

/** A draft with something more in it, where the reader of rigs finds nothing wrong with it. */
const accept = (draft: RigDraft, ...lines: readonly string[]): Answered => {
  const good = checked(draft);
  return good.ok ? heard(good.value, ...lines.map(printable)) : good;
};

/** What is said where nothing more is to come. */
const done = '';

const linkWords: Readonly<Record<Link, string>> = {
  'fm-stereo': 'analogue FM stereo',
  digital: 'digital',
  wired: 'wired',
};

const systemWords = (id: string, { link, audioLowHz, audioHighHz, ...more }: System): string => {
  const range =
    audioLowHz === undefined || audioHighHz === undefined
      ? []
      : [`${formatFrequency(hz(audioLowHz))} to ${formatFrequency(hz(audioHighHz))}`];
  const emphasis =
    'preEmphasisMicroseconds' in more ? [`pre-emphasis ${more.preEmphasisMicroseconds} us`] : [];
  return `${id}: ${[linkWords[link], ...range, ...emphasis].join(', ')}`;
};

const mixWords = ({ name, outputs, feeds, freeSlots }: Mix): string =>
  `${outputs.join('/').padEnd(7)} ${name}, ${feeds}${freeSlots ? `, free slots ${freeSlots.join(' ')}` : ''}`;

const titleQuestion = (draft: RigDraft, usual: string): Asked => ({
  id: 'title',
  flag: '--title',
  words: 'What is the show called?',
  usual,
  example: 'Paper Lanterns, club night',
  take: (text) => accept({ ...draft, title: text }),
});

/** A system under the id its name stands for. */
const named = (draft: RigDraft, name: string, system: System): Answered => {
  const id = idOf(name);
  if (id === '') return fail(`${quoteText(name)} has no letter to begin with; a system's name needs one.`);
  const titled = id === name ? system : { ...system, title: name };
  const again = Object.hasOwn(draft.systems, id) ? ' (in place of what it was)' : '';
  const systems = { ...draft.systems, [id]: titled };
  return accept({ ...draft, systems, telling: null }, `${systemWords(id, titled)}${again}`);
};

const systemQuestion = (draft: RigDraft): Asked => {
  const ids = Object.keys(draft.systems);
  const isFirst = ids.length === 0;
  return {
    id: 'system',
    flag: '--system',
    words: isFirst ? 'What carries sound to the in-ears?' : 'Is there another kind?',
    ...(isFirst ? {} : { usual: done, usualWords: 'no more' }),
    example: 'packs=analogue,40..15000,50us',
    choices: [
      ...(isFirst ? [] : [{ value: done, words: 'no, that is all' }]),
      { value: 'analogue', words: 'analogue radio', hint: 'FM stereo, with a pilot tone to guard' },
      { value: 'digital', words: 'digital radio' },
      { value: 'wired', words: 'a cable' },
    ],
    take: (text) => {
      if (text === done && !isFirst) return heard({ ...draft, areSystemsTold: true });
      if (text.includes('=')) {
        const told = parseSystem(text);
        return told.ok ? named(draft, told.value.name, told.value.system) : told;
      }
      const link = parseLink(text);
      return link.ok ? heard({ ...draft, telling: { link: link.value, range: null } }) : link;
    },
  };
};

const rangeQuestion = (draft: RigDraft, telling: ToldSystem): Asked => ({
  id: 'range',
  flag: '--system',
  words: "Which audio range does the transmitter's manual print?",
  notes: ['It stands among the figures at the end, as "frequency response" or "audio bandwidth".'],
  usual: '40 Hz to 15 kHz',
  example: '40 Hz to 15 kHz',
  take: (text) => {
    const range = parseRange(text);
    if (!range.ok) return range;
    const good = checked({ ...draft, systems: { packs: analogueSystem(range.value, null) }, mixes: [] });
    return good.ok ? heard({ ...draft, telling: { ...telling, range: range.value } }) : good;
  },
});

const emphasisQuestion = (draft: RigDraft, telling: ToldSystem, range: AudioRange): Asked => ({
  id: 'pre-emphasis',
  flag: '--system',
  words: 'Which pre-emphasis does it have?',
  notes: ['Where it is not known, every usual one is worked out and the worst judged by.'],
  usual: notKnown,
  example: '50us',
  choices: [
    { value: notKnown, words: 'not known' },
    { value: '50us', words: '50 us' },
    { value: '75us', words: '75 us' },
    { value: '25us', words: '25 us', hint: 'few have it' },
    { value: '0us', words: 'none', hint: 'few have none' },
  ],
  take: (text) => {
    const told = parsePreEmphasis(text);
    if (!told.ok) return told;
    const packs = analogueSystem(range, told.value);
    const good = checked({ ...draft, systems: { packs }, mixes: [] });
    return good.ok ? heard({ ...draft, telling: { ...telling, preEmphasis: told.value } }) : good;
  },
});

const nameQuestion = (draft: RigDraft, system: System): Asked => {
  const usual = { 'fm-stereo': 'packs', digital: 'digital', wired: 'wired' }[system.link];
  const taken = Object.keys(draft.systems);
  const free = taken.includes(usual) ? `${usual}-${taken.length + 1}` : usual;
  return {
    id: 'name',
    flag: '--system',
    words: 'What shall it be called here?',
    usual: free,
    example: free,
    take: (text) => named(draft, text, system),
  };
};

/** The systems in the order mixes are likely to want them: the one of the last mix first. */
const lastSystem = ({ systems, mixes }: RigDraft): string =>
  mixes.at(-1)?.feeds ?? Object.keys(systems)[0] ?? '';

const removed = (draft: RigDraft, name: string): Answered => {
  const mixes = draft.mixes.filter((mix) => mix.name !== name);
  if (mixes.length === draft.mixes.length)
    return fail(`No mix is called ${quoteText(name)}; nothing was taken out.`);
  return heard({ ...draft, mixes }, `taken out: ${printable(name)}`);
};

const added = (draft: RigDraft, text: string): Answered => {
  let mixes = draft.mixes;
  for (const each of splitMixes(text)) {
    const systems = Object.keys(draft.systems);
    const mix = parseMix(each, { systems, feeds: lastSystem({ ...draft, mixes }), mixes });
    if (!mix.ok) return mix;
    mixes = [...mixes, mix.value];
    const name = mix.value.name;
    if (draft.mixes.some((other) => other.name === name)) {
      return fail(`A mix is called ${quoteText(name)} already. To tell it anew take it out first: -${name}`);
    }
  }
  if (mixes.length === draft.mixes.length)
    return fail(`${quoteText(text)} names no mix; write one, as in "Singer 1/2".`);
  return accept({ ...draft, mixes }, ...mixes.slice(draft.mixes.length).map(mixWords));
};

/** `standing` are the mixes it began with. */
const mixQuestion = (draft: RigDraft, standing: readonly Mix[]): Asked => {
  const feeds = lastSystem(draft);
  const pair = nextPair(draft.mixes)?.join('/');
  const offered = [...(pair ? [`outputs ${pair}`] : []), feeds].join(', ');
  const isFirst = draft.mixes.length === 0;
  const others = Object.keys(draft.systems).filter((id) => id !== feeds);
  const how = `Name, outputs and what they feed, as in: Singer 1/2 ${feeds}. What is left out is the next pair, and what the mix before it feeds${others.length > 0 ? `; there are ${[feeds, ...others].join(', ')}` : ''}. Several at once by commas or as a list; -Singer takes one out; a name that ends in a number goes in quotes.`;
  return {
    id: 'mix',
    flag: '--mix',
    words: `${isFirst ? 'First mix' : 'Next mix'} (${offered} unless told)?`,
    notes: draft.mixes === standing ? [...standing.map((mix) => `  ${mixWords(mix)}`), how] : [],
    ...(isFirst ? {} : { usual: done, usualWords: 'no more' }),
    example: `Singer ${pair ?? '1/2'} ${feeds}`,
    take: (text) => {
      if (text === done && !isFirst) return heard({ ...draft, areMixesTold: true });
      return text.startsWith('-') ? removed(draft, text.slice(1).trim()) : added(draft, text);
    },
  };
};

const withFreeSlots = (draft: RigDraft, text: string): Answered => {
  const named = draft.mixes.find(({ name }) => text.startsWith(`${name}:`));
  const slots = (named ? text.slice(named.name.length + 1) : text).split(/[\s,]+/).filter(Boolean);
  if (slots.length === 0)
    return fail(`${quoteText(text)} names no slot; write which may be used, as in "3 4".`);
  const mixes = draft.mixes.map((mix) => (!named || mix === named ? { ...mix, freeSlots: slots } : mix));
  return accept({ ...draft, mixes }, ...mixes.map(mixWords));
};

const slotsQuestion = (draft: RigDraft): Asked => {
  const first = draft.mixes[0]?.name ?? '';
  const isTold = draft.mixes.some(({ freeSlots }) => freeSlots);
  return {
    id: 'free-slots',
    flag: '--free-slots',
    words: 'Which filter slots of the desk may be used, where not all are free?',
    notes: [
      ...(isTold ? [] : draft.mixes.map((mix) => `  ${mixWords(mix)}`)),
      `By the numbers the desk gives them, as in: 3 4; for one mix alone, as in: ${first}: 3 4`,
    ],
    usual: done,
    usualWords: isTold ? 'that is all' : 'every slot of every mix',
    example: '3 4',
    take: (text) => (text === done ? heard({ ...draft, areSlotsTold: true }) : withFreeSlots(draft, text)),
  };
};

/** Asks for a rig: its systems, then its mixes, then which slots are free. `title` is offered as the show's. */
export const rigBuilder = (from: Rig | null, title: string): Builder<RigDraft> => {
  const start = rigDraft(from);
  const next = (draft: RigDraft): Asked | null => {
    const { telling } = draft;
    if (draft.title === null) return titleQuestion(draft, from?.title ?? title);
    if (telling) {
      const { link, range, preEmphasis } = telling;
      if (link !== 'fm-stereo') return nameQuestion(draft, { link });
      if (range === null) return rangeQuestion(draft, telling);
      if (preEmphasis === undefined) return emphasisQuestion(draft, telling, range);
      return nameQuestion(draft, analogueSystem(range, preEmphasis));
    }
    if (!draft.areSystemsTold) return systemQuestion(draft);
    if (!draft.areMixesTold) return mixQuestion(draft, start.mixes);
    return draft.areSlotsTold ? null : slotsQuestion(draft);
  };
  return { start, next };
};
