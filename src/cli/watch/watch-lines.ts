import { hang, wrap } from '../../layout/wrap.js';
import type { ValueChange } from '../../live/watch/mix-standing.js';
import type { MixEvent, MixStood } from '../../live/watch/mix-watch.js';
import type { WatchEvent, WatchSummary } from '../../live/watch/watch-state.js';
import type { Problem } from '../../model/problem.js';
import type { ToldEvent, WatchStart } from '../../node/desk/watch.js';
import { printable } from '../../units/quote.js';
import { besideLimit, downOrUp } from '../words/beside-limit.js';
import { otherNameNote } from '../words/other-name.js';
import { guardTexts } from '../words/shortfall.js';

const stateWords = { holds: 'HOLDS', differs: 'DIFFERS', unread: 'NOT KNOWN' } as const;

/** `12 s`, `4 min 12 s`, `10 min`, `2 h 59 min`. */
export const timeText = (milliseconds: number): string => {
  const seconds = Math.round(milliseconds / 1000);
  const [minutes, hours] = [Math.floor(seconds / 60), Math.floor(seconds / 3600)];
  if (minutes === 0) return `${seconds} s`;
  const [whole, part] =
    hours === 0
      ? [`${minutes} min`, seconds % 60 && `${seconds % 60} s`]
      : [`${hours} h`, minutes % 60 && `${minutes % 60} min`];
  return part === 0 ? whole : `${whole} ${part}`;
};

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

const mixCount = (count: number): string => `${count} mix${count === 1 ? '' : 'es'}`;

/** A time of day as the clocks on the wall here have it. */
const localTime = (at: string): string => new Date(at).toTimeString().slice(0, 8);

const valueText = ({ parameter, from, to, set, state }: ValueChange): string => {
  const was = from === null ? '' : ` was ${from},`;
  if (state === 'unread') return `${parameter}${was} no fit answer comes`;
  if (state === 'held') return `${parameter}${was} is ${to} again`;
  // What shows as it should may still lie beside its step.
  if (to === set) return `${parameter}${was} reads ${to}, and not exactly what is wanted`;
  const wanted = from === set ? '' : `, ${set ?? 'not known'} is wanted`;
  return `${parameter}${was} reads ${to ?? 'otherwise'}${wanted}`;
};

/** What changed, slot by slot; legs that changed alike are told together. */
const slotTexts = (values: readonly ValueChange[]): readonly string[] => {
  const slots = new Map<string, { output: number; slot: string; texts: string[] }>();
  for (const value of values) {
    const { output, slot } = value;
    const key = JSON.stringify([output, slot]);
    const at = slots.get(key) ?? { output, slot, texts: [] };
    slots.set(key, at);
    at.texts.push(valueText(value));
  }
  const outputsOf = new Map<string, number[]>();
  for (const { output, slot, texts } of slots.values()) {
    const told = `slot ${slot}: ${texts.join('; ')}`;
    outputsOf.set(told, [...(outputsOf.get(told) ?? []), output]);
  }
  return [...outputsOf].map(
    ([told, outputs]) => `output${outputs.length === 1 ? '' : 's'} ${outputs.join('/')}, ${told}`,
  );
};

/** What a change does to the pilot, and in what else the guard falls short now. */
const guardText = ({ guard, event }: MixEvent): string | null => {
  if (guard === null) return null;
  const { before, now, limits } = guard;
  if (now === null) return 'what is taken at the pilot is not known';
  const { figure, limit } = besideLimit(now.pilotAttenuationDb, limits.pilotAttenuationAtLeastDb, 'at least');
  const is = downOrUp(now.pilotAttenuationDb, figure);
  const wasDb = before?.pilotAttenuationDb;
  const was = wasDb === undefined ? null : downOrUp(wasDb, `${(wasDb + 0).toFixed(1)} dB`);
  const also = guardTexts({ limits, worst: now }).filter((text) => !text.startsWith('pilot'));
  const pilot = was === null || event === 'as-set' ? `pilot ${is}` : `pilot was ${was}, is ${is}`;
  return [`${pilot}, at least ${limit} asked`, ...also].join('; ');
};

const remarkOf = ({ event, state, afterMs }: MixEvent): string => {
  if (event === 'found') return state === 'unread' ? 'cannot be read whole' : 'not as the recipe set it';
  if (event === 'as-set') return `as set again, after ${timeText(afterMs)}`;
  return event === 'unread' ? 'cannot be read whole any more' : 'changed';
};

const mixLines = (told: MixEvent, time: string, columns: number): readonly string[] => {
  const head = `${time}  ${stateWords[told.state].padEnd(12)}${told.outputs.join('/').padEnd(8)}`;
  const guard = guardText(told);
  return [
    ...hang(head, `${printable(told.mix)}: ${remarkOf(told)}`, columns),
    ...slotTexts(told.values).flatMap((text) => hang('    ', text, columns)),
    ...(guard === null ? [] : hang('    ', guard, columns)),
  ];
};

/** How many stand how, as a verification closes. */
const firstRoundText = ({ holds, differs, unread }: Extract<WatchEvent, { event: 'first-round' }>): string =>
  differs + unread === 0
    ? `every mix stands as the recipe set it (${holds})`
    : `of ${mixCount(holds + differs + unread)} ${[
        ...(differs > 0 ? [`${differs} stand${differs === 1 ? 's' : ''} otherwise than the recipe set`] : []),
        ...(unread > 0 ? [`${unread} could not be read whole`] : []),
      ].join(', ')}`;

/** Why nothing comes, without what that means for a command that ends there. */
const whyText = ({ message }: Problem): string => message.split(' Nothing more was sent.')[0] ?? '';

/** An event for people, with the time of day; nothing for the start, which is told apart. */
export const watchLines = (told: ToldEvent, columns: number): readonly string[] => {
  const time = localTime(told.at);
  switch (told.event) {
    case 'started':
      return [];
    case 'first-round':
      return hang(`${time}  `, firstRoundText(told), columns);
    case 'silent':
      return hang(
        `${time}  ${'SILENT'.padEnd(12)}`,
        `${whyText(told.problem)} It is asked again until it answers.`,
        columns,
      );
    case 'answering':
      return hang(
        `${time}  ${'ANSWERS'.padEnd(12)}`,
        `the desk answers again, after ${timeText(told.silentMs)}`,
        columns,
      );
    default:
      return mixLines(told, time, columns);
  }
};

/** What is going to be watched, and how long a round takes. */
export const startLines = (
  { mixes, values, destination, everyMs, roundMs, otherNames }: WatchStart,
  rate: number,
  until: string,
  columns: number,
): readonly string[] => [
  ...wrap(
    `Watching ${mixCount(mixes.length)} on ${destination}: ${counted(values, 'value')}, each every ${timeText(everyMs)}, ${until}. Nothing is written.`,
    columns,
  ),
  ...(roundMs > everyMs
    ? wrap(
        `At ${counted(rate, 'message')} a second a round takes ${timeText(Math.ceil(roundMs / 1000) * 1000)}.`,
        columns,
      )
    : []),
  ...otherNames.flatMap((each) => wrap(otherNameNote(each), columns)),
];

const stoodText = ({ stoodMs, otherwiseMs, notKnownMs, changes, unconfirmed }: MixStood): string =>
  [
    `stood ${timeText(stoodMs)}`,
    ...(otherwiseMs > 0 ? [`otherwise ${timeText(otherwiseMs)}`] : []),
    ...(notKnownMs >= 500 ? [`not known ${timeText(notKnownMs)}`] : []),
    ...(changes > 0 ? [`told ${counted(changes, 'time')}`] : []),
    ...(unconfirmed > 0 ? [`${unconfirmed} seen once and not told`] : []),
  ].join(', ');

/** How long each mix stood, and how it stands at the end. */
export const stoodLines = ({ mixes }: WatchSummary, columns: number): readonly string[] =>
  mixes.flatMap((mix) =>
    hang(
      `${stateWords[mix.state ?? 'unread'].padEnd(12)}${mix.outputs.join('/').padEnd(8)}`,
      `${printable(mix.name)}: ${stoodText(mix)}`,
      columns,
    ),
  );

/** How it went, in a sentence. */
export const closingText = ({ result, mixes, watchedMs, silences, silentMs }: WatchSummary): string => {
  const watched = `Watched ${mixCount(mixes.length)} for ${timeText(watchedMs)}`;
  const changed = mixes.filter(({ changes }) => changes > 0).length;
  const how =
    changed > 0
      ? `${changed} did not stand as the recipe set ${changed === 1 ? 'it' : 'them'} throughout`
      : mixes.some(({ state }) => state === null)
        ? 'not all could be read'
        : 'every mix stood as the recipe set it whenever it was read';
  const silent =
    silences === 0
      ? ''
      : ` The desk fell silent ${counted(silences, 'time')}, for ${timeText(silentMs)} in all${result === 'desk-lost' ? ', and still is' : ''}.`;
  return `${watched}: ${how}.${silent}`;
};
