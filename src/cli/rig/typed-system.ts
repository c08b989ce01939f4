import type { FmStereoSystem, Link, System } from '../../model/rig.js';
import { parseFrequency } from '../../units/parse.js';
import type { Hz } from '../../units/quantity.js';
import { quoteText } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';

/** From where to where a system's audio goes. */
export interface AudioRange {
  readonly audioLowHz: Hz;
  readonly audioHighHz: Hz;
}

const rangeAllowed = 'write where the audio begins and ends, as in "40 Hz to 15 kHz" or "40..15000"';

/** An audio range as manuals print it: `40 Hz to 15 kHz`, `40..15000`, `40 Hz - 15 kHz`. */
export const parseRange = (text: string): Result<AudioRange, string> => {
  const [low, high, ...more] = text.split(/\s*(?:\.\.+|\u2026|\bto\b|[-\u2010-\u2015])\s*/);
  if (low === undefined || high === undefined || more.length > 0) {
    return fail(`${quoteText(text)} is no audio range; ${rangeAllowed}.`);
  }
  const [from, to] = [parseFrequency(low), parseFrequency(high)];
  if (!from.ok) return from;
  return to.ok ? ok({ audioLowHz: from.value, audioHighHz: to.value }) : to;
};

/** What is answered where somebody does not know. */
export const notKnown = 'not known';

const microseconds = /^(\d+(?:\.\d+)?)\s*(?:us|\u00b5s|\u03bcs|microseconds?)?$/i;

/** A time constant of pre-emphasis in microseconds: `50us`, `75 µs`, `0`; null for `not known`. */
export const parsePreEmphasis = (text: string): Result<number | null, string> => {
  if (/^(not known|unknown)$/i.test(text.trim())) return ok(null);
  const digits = microseconds.exec(text.trim())?.[1];
  return digits === undefined
    ? fail(`${quoteText(text)} is no pre-emphasis; write it in microseconds, as in "50us", or "${notKnown}".`)
    : ok(Number(digits));
};

const linkWords: ReadonlyMap<string, Link> = new Map([
  ['analogue', 'fm-stereo'],
  ['analog', 'fm-stereo'],
  ['fm', 'fm-stereo'],
  ['fm-stereo', 'fm-stereo'],
  ['digital', 'digital'],
  ['wired', 'wired'],
]);

/** The kind of link a word means: `analogue`, `digital`, `wired`. */
export const parseLink = (text: string): Result<Link, string> => {
  const link = linkWords.get(text.trim().toLowerCase());
  return link === undefined
    ? fail(`${quoteText(text)} is no kind of link; there are analogue, digital and wired.`)
    : ok(link);
};

/** The id that a name typed by hand stands for: `Packs A` is `packs-a`. Empty where it has no letter to begin with. */
export const idOf = (name: string): string =>
  name
    .toLowerCase()
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^[^a-z]+|-+$/g, '');

const isPreEmphasis = (part: string): boolean => /s$/i.test(part.trim()) && microseconds.test(part.trim());

/** A system in one go: `packs=analogue,40..15000,50us`, `wired=wired`. */
export const parseSystem = (
  text: string,
): Result<{ readonly name: string; readonly system: System }, string> => {
  const [, name = '', told = ''] = /^([^=]+)=(.+)$/s.exec(text) ?? [];
  const allowed =
    'a system is a name and what it is, as in "packs=analogue,40..15000,50us", "packs=digital" or "packs=wired"';
  const [kind = '', ...parts] = told.split(',').map((part) => part.trim());
  if (name.trim() === '' || kind === '') return fail(`${quoteText(text)} is no system; ${allowed}.`);
  const link = parseLink(kind);
  if (!link.ok) return link;
  const ranges = parts.filter((part) => !isPreEmphasis(part));
  const [range = '', ...moreRanges] = ranges;
  const [emphasis, ...moreEmphases] = parts.filter(isPreEmphasis);
  if (moreRanges.length > 0 || moreEmphases.length > 0) {
    const which = moreRanges.length > 0 ? ranges[1] : moreEmphases[0];
    return fail(`${quoteText(which ?? '')} is one thing too many in ${quoteText(text)}; ${allowed}.`);
  }
  const audio = range === '' ? null : parseRange(range);
  if (audio && !audio.ok) return audio;
  if (link.value !== 'fm-stereo') {
    if (emphasis !== undefined) {
      return fail(`${quoteText(emphasis)}: a ${link.value} link has no pre-emphasis; leave it out.`);
    }
    return ok({ name: name.trim(), system: { link: link.value, ...audio?.value } });
  }
  if (audio === null) {
    return fail(
      `${quoteText(text)} lacks the audio range of an analogue link, which its manual prints; ${allowed}.`,
    );
  }
  const preEmphasis = emphasis === undefined ? ok(null) : parsePreEmphasis(emphasis);
  if (!preEmphasis.ok) return preEmphasis;
  return ok({ name: name.trim(), system: analogueSystem(audio.value, preEmphasis.value) });
};

/** An analogue FM stereo system; pre-emphasis null where it is not known. */
export const analogueSystem = (
  audio: AudioRange,
  preEmphasisMicroseconds: number | null,
): FmStereoSystem => ({
  link: 'fm-stereo',
  ...audio,
  ...(preEmphasisMicroseconds === null ? {} : { preEmphasisMicroseconds }),
});
