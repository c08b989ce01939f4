import { db, dbPerOctave, hz, q } from '../units/quantity.js';
import { quote } from '../units/quote.js';
import { type Intent, type ProtectiveRole, protectiveRoles } from './intent.js';
import { type Problem, pathTo, problem } from './problem.js';
import type { FmStereoSystem, Rig } from './rig.js';

/** The pilot of FM stereo where a rig does not say: 19 kHz (ITU-R BS.450; 47 CFR 73.322). */
export const usualPilotHz = hz(19000);

/** Where low cuts for in-ears usually sit. Common practice, no source. */
const lowCutFromHz = 35;
const lowCutToHz = 40;

const lowCut = (system: FmStereoSystem): Intent => ({
  role: 'low-cut',
  type: 'highpass',
  frequencyHz: hz(Math.min(lowCutToHz, Math.max(lowCutFromHz, system.audioLowHz))),
  slopeDbPerOctave: dbPerOctave(12),
});

/** A narrow bell as deep as most desks' knobs go. Common practice, no source. */
const pilotCut = (system: FmStereoSystem): Intent => ({
  role: 'pilot-cut',
  type: 'peaking',
  frequencyHz: system.pilotHz ?? usualPilotHz,
  q: q(10),
  gainDb: db(-15),
});

const highCut = (system: FmStereoSystem): Intent => ({
  role: 'high-cut',
  type: 'lowpass',
  frequencyHz: system.audioHighHz,
  slopeDbPerOctave: dbPerOctave(12),
});

const derivations: Readonly<Record<ProtectiveRole, (system: FmStereoSystem) => Intent>> = {
  'low-cut': lowCut,
  'pilot-cut': pilotCut,
  'high-cut': highCut,
};

/** The filters that guard a system's pilot, from its own figures and the rig's own wishes, by frequency. */
export const protectiveIntents = (
  system: FmStereoSystem,
  rig: Pick<Rig, 'intents' | 'leaveOut'> = {},
): readonly Intent[] => {
  const asked = rig.intents ?? [];
  const derived = protectiveRoles
    .filter((role) => !rig.leaveOut?.includes(role) && !asked.some((intent) => intent.role === role))
    .map((role) => ({ ...derivations[role](system), mayMove: true }));
  return [...derived, ...asked].sort((a, b) => a.frequencyHz - b.frequencyHz);
};

/** An FM stereo link nobody has described: audio from 40 Hz to 15 kHz. Common practice, no source. */
export const usualSystem: FmStereoSystem = {
  link: 'fm-stereo',
  audioLowHz: hz(40),
  audioHighHz: hz(15000),
};

/** What deriving a system's filters took for granted or moved, so that nothing is assumed in silence. */
export const protectionNotes = (id: string, system: FmStereoSystem, rig: Rig): readonly Problem[] => {
  const path = pathTo('systems', id);
  const notes: Problem[] = [];
  if (system.pilotHz === undefined) {
    notes.push(
      problem(
        'pilot-assumed',
        `${path}.pilotHz`,
        `The pilot of system ${quote(id)} is not given: 19 kHz is taken, as FM stereo has it (ITU-R BS.450).`,
      ),
    );
  }
  const low = protectiveIntents(system, rig).find(({ role }) => role === 'low-cut');
  const derivedHere = !rig.intents?.some(({ role }) => role === 'low-cut');
  if (low && derivedHere && low.frequencyHz !== system.audioLowHz) {
    notes.push(
      problem(
        'low-cut-moved',
        `${path}.audioLowHz`,
        `The lower audio limit of system ${quote(id)} is ${system.audioLowHz} Hz; the low cut is asked at ${low.frequencyHz} Hz, since it is kept from ${lowCutFromHz} to ${lowCutToHz} Hz. Ask for another with an intent of role "low-cut".`,
      ),
    );
  }
  return notes;
};
