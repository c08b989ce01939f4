import type { FitOutcome } from '../fitting/fit.js';
import { usualLineUpsDbfs, usualPreEmphasesMicroseconds } from '../guard/modulation.js';
import { usualProgramme } from '../guard/programme.js';
import type { Desk } from '../model/desk.js';
import { knownPreEmphasesMicroseconds, knownPreEmphasesText, tenfoldMeant } from '../model/link-limits.js';
import { type Problem, pathTo, problem } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { FmStereoSystem, GuardWishes, Mix } from '../model/rig.js';
import { formatFrequency } from '../units/format.js';
import { quote } from '../units/quote.js';

/** What there is to say of a system's pre-emphasis: that it is not given, is none, or is one that is hardly met. */
export const preEmphasisNotes = (
  id: string,
  { preEmphasisMicroseconds: given }: FmStereoSystem,
  guard: GuardWishes = {},
): readonly Problem[] => {
  const path = pathTo(pathTo('systems', id), 'preEmphasisMicroseconds');
  const of = `The pre-emphasis of system ${quote(id)} is`;
  if (given === undefined) {
    const told = `${of} not given: figures are worked out for ${usualPreEmphasesMicroseconds.join(' and ')} microseconds and the worst is judged by. State it to narrow this.`;
    return [problem('pre-emphasis-unknown', path, told)];
  }
  if (!knownPreEmphasesMicroseconds.includes(given)) {
    const tenfold = tenfoldMeant(given);
    const meant = tenfold === undefined ? '' : ` Did you mean ${tenfold}?`;
    const told = `${of} given as ${given} microseconds, which is unusual; usual are ${knownPreEmphasesText}. It was used as it is: check it in the transmitter's data sheet.${meant}`;
    return [problem('pre-emphasis-unusual', path, told)];
  }
  if (given > 0 || guard.pilotAttenuationAtLeastDb !== undefined) return [];
  const told = `${of} 0, which adds nothing at the pilot, so nothing is asked for there either: that a guard is met, or a pilot is safe, says little then. To ask for something, give guard.pilotAttenuationAtLeastDb.`;
  return [problem('pre-emphasis-none', path, told)];
};

/** Line-ups that ask more of a link than there is, named as such. */
export const overDeviationNote = (id: string, lineUpsDbfs: readonly number[]): readonly Problem[] =>
  lineUpsDbfs.length === 0
    ? []
    : [
        problem(
          'over-deviates',
          pathTo(pathTo('systems', id), 'lineUpDbfs'),
          `Lined up at ${lineUpsDbfs.join(' or ')} dBFS, peaks of that programme without the filters would take more of the deviation of system ${quote(id)} than there is. Where they still do with them, a limiter is at work, which the figures leave out.`,
        ),
      ];

/** What stands between the desk and the pilot, which no rig told. */
export const encoderNote = (id: string): Problem =>
  problem(
    'encoder-assumed',
    pathTo(pathTo('systems', id), 'encoderLowpassHz'),
    `The transmitter's encoder of system ${quote(id)} is taken to have no low-pass and no pilot trap of its own, which is the worst case. State encoderLowpassHz and encoderLowpassDbPerOctave where they are known.`,
  );

export const lineUpNote = (id: string): Problem =>
  problem(
    'line-up-unknown',
    pathTo(pathTo('systems', id), 'lineUpDbfs'),
    `The line-up of system ${quote(id)}, the level at which a 1 kHz sine takes 90 % of deviation, is not given: pilot over programme is worked out for ${usualLineUpsDbfs.join(', ')} dBFS and told as a range. State it to narrow this.`,
  );

/** What a pilot is compared with, which no rig tells. */
export const programmeNote = problem(
  'programme-assumed',
  '',
  `Pilot over programme is worked out for pink noise at ${usualProgramme.levelDbfs} dBFS RMS from ${formatFrequency(usualProgramme.lowHz)} to ${formatFrequency(usualProgramme.highHz)}, the same in both channels, which reaches the pilot with the most power. Music differs, and a transmitter's limiter is not in the figure.`,
);

/** Where the attenuation asked for at the pilot comes from, unless the rig asks for one of its own. */
export const pilotLimitNote = problem(
  'pilot-limit-derived',
  'guard.pilotAttenuationAtLeastDb',
  'The rig asks for no attenuation at the pilot: as much is asked for as pre-emphasis adds there, less what a low-pass of the encoder takes that is stated, so that treble meets the pilot no louder than it left the desk. That is a convention of bandwright, not a standard.',
);

export const slotsNote = problem(
  'slots-assumed-free',
  'mixes',
  'Mixes that do not list freeSlots: every slot of theirs is taken to be free. List freeSlots where filters are in use.',
);

/** What a desk does beside a recipe, which no recipe knows. */
export const otherSlotsNote = problem(
  'other-slots-flat',
  'mixes',
  'The figures take every slot that the recipe does not use to be off. What stands there on the desk counts too, and is seen only where the desk is inspected.',
);

/** Where whoever sets a desk up may pair any two outputs, nobody can tell from here that they did. */
export const pairsNotes = (mixes: readonly Pick<Mix, 'outputs'>[], { target }: Desk): readonly Problem[] =>
  target.outputs.pairs === 'any' && mixes.some(({ outputs }) => outputs.length > 1)
    ? [
        problem(
          'pairs-assumed-linked',
          'target.outputs.pairs',
          'Any two outputs may be a pair on this desk: the two of a mix are taken to be paired there, and only the first is set. See on the desk that they are, or the second gets nothing.',
        ),
      ]
    : [];

/** What a search left open, the worst over all mixes. */
export const unprovedNote = (
  unproved: readonly NonNullable<FitOutcome['unproved']>[],
): readonly Problem[] => {
  if (unproved.length === 0) return [];
  const missedDb = Math.max(...unproved.map(({ missedAtMostDb }) => missedAtMostDb));
  const overspentDb = Math.max(...unproved.map(({ overspentAtMostDb }) => overspentAtMostDb));
  return [
    problem(
      'not-proved',
      'fit',
      `${[
        'The steps chosen are the best that were found, not proved to be the best of all:',
        [
          ...(missedDb > 0
            ? [`the pilot could be attenuated by at most ${missedDb.toFixed(2)} dB more`]
            : []),
          ...(overspentDb > 0 ? [`the music could lose at most ${overspentDb.toFixed(2)} dB less`] : []),
        ].join(', or '),
      ].join(' ')}.`,
    ),
  ];
};

export const evidenceNote = ({ target }: Desk): readonly Problem[] =>
  Object.values(target.evidence).every((state) => state === 'tested')
    ? []
    : [
        problem(
          'target-unproved',
          'target.evidence',
          `Tried on the real desk: grid ${target.evidence.grid}, response ${target.evidence.response}, push ${target.evidence.push}. Compare what the desk shows with this recipe before you trust it.`,
        ),
      ];

/** What a recipe tells of the desk it is for. */
export const recipeTarget = ({ target }: Desk): Recipe['target'] => ({
  id: target.id,
  title: target.title,
  stereo: target.outputs.stereo,
  evidence: target.evidence,
});
