import type { ComparedDesk, ServedDesk } from '../../analysis/compare/compared-desk.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { Rig } from '../../model/rig.js';
import { guardedSystems, systemScope } from '../../recipes/rig-on-desk.js';
import { formatDecibels, formatFrequency } from '../../units/format.js';
import { deskName } from '../words/load-desk.js';
import { evidenceDiffers, evidenceWords } from './desk-words.js';

/** What differs from system to system, with the systems' names where it does: `15.6 dB (packs), 19.1 dB (spare)`. */
const bySystem = (told: readonly (readonly [id: string, text: string])[]): string => {
  const texts = [...new Set(told.map(([, text]) => text))];
  if (texts.length < 2) return texts.join('');
  return texts
    .map((text) => `${text} (${told.flatMap(([id, each]) => (each === text ? [id] : [])).join(', ')})`)
    .join(', ');
};

const lossAsked = ({ keepLossAtMostDb, isKeepLossStated, keepLowHz, keepHighHz }: GuardScope): string => {
  const music = `The music, ${formatFrequency(keepLowHz)} to ${formatFrequency(keepHighHz)}, may lose`;
  return isKeepLossStated
    ? `${music} at most ${formatDecibels(keepLossAtMostDb)}.`
    : `${music} what the filters as asked would cost it on that desk, 1 dB at least, and up to ${formatDecibels(keepLossAtMostDb)} where the pilot needs it.`;
};

/** What the notes name to be typed. */
export const dialCommand = 'bandwright recipe RIG --target DESK';

/** What the rig asks of every desk. */
export const comparisonHead = (rig: Rig, compared: readonly ComparedDesk[]): readonly string[] => {
  const title = `${rig.title}: which desk serves it best`;
  const scopes = guardedSystems(rig).map(({ id, system }) => [id, systemScope(system, rig.guard)] as const);
  const [first] = scopes;
  if (!first) {
    return [
      title,
      'No mix of this rig feeds an FM stereo link: there is nothing to guard, and no desk serves it better than another.',
    ];
  }
  const guarded = rig.mixes.filter(({ feeds }) => rig.systems[feeds]?.link === 'fm-stereo').length;
  const asked = bySystem(
    scopes.map(([id, { pilotAttenuationAtLeastDb }]) => [id, formatDecibels(pilotAttenuationAtLeastDb)]),
  );
  const pilots = bySystem(
    scopes.map(([id, { pilotHz, windowHz }]) => [id, `${formatFrequency(pilotHz)} +-${windowHz} Hz`]),
  );
  return [
    title,
    `${compared.length === 1 ? '1 desk' : `${compared.length} desks, the best first`}; ${guarded} of ${rig.mixes.length} mixes to guard. Asked at the pilot, ${pilots}: at least ${asked}. ${lossAsked(first[1])}`,
  ];
};

const dialsNote = (served: readonly ServedDesk[]): string =>
  [
    'Dials: knobs that a person must set; a setting that several mixes share counts once, and switches are not counted.',
    ...(served.some(({ dials }) => dials.settings > 1) ? ['"in 2": in two settings.'] : []),
    ...(served.some(({ dials }) => dials.legsApart) ? ['"x2": left and right are dialled one by one.'] : []),
  ].join(' ');

const evidenceNote = (served: readonly ServedDesk[]): readonly string[] => {
  const [first] = served;
  return !first || evidenceDiffers(served)
    ? []
    : [`Grid and response, tried on the real desk: ${evidenceWords(first.evidence)}.`];
};

/** What searches left open, each note once for all desks it is true of. */
const openNotes = (served: readonly ServedDesk[], compared: readonly ComparedDesk[]): readonly string[] =>
  [...new Set(served.flatMap(({ notProved }) => notProved ?? []))].map((note) => {
    const names = served.flatMap((desk) => (desk.notProved === note ? [deskName(desk, compared)] : []));
    return `${names.join(', ')}: ${note}`;
  });

/** Slots go by other names on every desk. */
const slotsNote = (compared: readonly ComparedDesk[]): readonly string[] =>
  compared.some((desk) => !desk.fits && desk.slotsUnknown.length > 0)
    ? ['A rig that lists freeSlots is made for one desk: leave them out to see what others could do.']
    : [];

/** How the lines are to be read. */
export const comparisonNotes = (compared: readonly ComparedDesk[]): readonly string[] => {
  const served = compared.filter((desk) => desk.fits);
  if (!served.some(({ pilot }) => pilot !== null)) return slotsNote(compared);
  return [
    'Pilot: what is taken on the guarded mix that has least to spare, or falls short most. Music: the most that is lost on any. Both in the worst of the ways that a desk may build its filters.',
    dialsNote(served),
    'Order: guard met, fewest filters missing, most at the pilot by whole decibels, least music lost by half decibels, fewest dials.',
    ...evidenceNote(served),
    ...openNotes(served, compared),
    ...slotsNote(compared),
    `What to dial: ${dialCommand}.`,
  ];
};
