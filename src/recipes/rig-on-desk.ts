import { type GuardScope, guardScope } from '../guard/guard-scope.js';
import type { Desk } from '../model/desk.js';
import { pairFault } from '../model/pairs.js';
import { type Problem, pathTo, problem } from '../model/problem.js';
import { usualPilotHz } from '../model/protection.js';
import type { FmStereoSystem, GuardWishes, Mix, Rig } from '../model/rig.js';
import { quote } from '../units/quote.js';

/** What the guard of a system's pilot is judged over: what the system tells of itself, and what a rig asks. */
export const systemScope = (system: FmStereoSystem, wishes: GuardWishes = {}): GuardScope =>
  guardScope(system.pilotHz ?? usualPilotHz, { ...system, ...wishes });

/** The systems with a pilot that some mix feeds: a system nobody feeds is no matter. */
export const guardedSystems = (
  rig: Rig,
): readonly { readonly id: string; readonly system: FmStereoSystem }[] =>
  Object.entries(rig.systems).flatMap(([id, system]) =>
    system.link === 'fm-stereo' && rig.mixes.some(({ feeds }) => feeds === id) ? [{ id, system }] : [],
  );

/** Mixes with the same key share a fit: they feed the same system from the same free slots. */
export const fitKey = ({ feeds, freeSlots }: Mix): string => JSON.stringify([feeds, freeSlots]);

/** Frequencies in effect that some way of building the desk's filters cannot even carry, or that collide. */
const frequencyProblems = (rig: Rig, { target }: Desk): readonly Problem[] => {
  const lowestRateHz = Math.min(...target.realisations.map(({ sampleRateHz }) => sampleRateHz ?? Infinity));
  const halfHz = lowestRateHz / 2;
  const beyond = (path: string, frequencyHz: number, what: string): readonly Problem[] =>
    frequencyHz < halfHz
      ? []
      : [
          problem(
            'beyond-sample-rate',
            path,
            `${what} ${frequencyHz} Hz; target ${quote(target.id)} may run at ${lowestRateHz} Hz, where nothing from ${halfHz} Hz up exists. Correct the frequency, or the target's sample rates.`,
          ),
        ];
  const guards = guardedSystems(rig).flatMap(({ id, system }) => {
    const { pilotHz, windowHz, keepHighHz } = guardScope(system.pilotHz ?? usualPilotHz, rig.guard);
    const path = pathTo(pathTo('systems', id), 'pilotHz');
    const overlap = problem(
      'keep-band-meets-pilot',
      'guard.keepHighHz',
      `The music is kept up to ${keepHighHz} Hz, and the pilot's window begins at ${pilotHz - windowHz} Hz: what is kept cannot be taken out. Keep less, or narrow windowHz.`,
    );
    return [
      ...beyond(path, pilotHz + windowHz, "The pilot's window reaches"),
      ...beyond('guard.keepHighHz', keepHighHz, 'The music is kept up to'),
      ...(pilotHz - windowHz <= keepHighHz ? [overlap] : []),
    ];
  });
  const intents = (rig.intents ?? []).flatMap(({ frequencyHz }, index) =>
    beyond(`intents[${index}].frequencyHz`, frequencyHz, 'A filter is asked for at'),
  );
  // What is wrong with the guard itself is the same for every system.
  const told = new Set<string>();
  return [...guards, ...intents].filter(({ path, message }) => {
    const key = `${path} ${message}`;
    if (told.has(key)) return false;
    told.add(key);
    return true;
  });
};

/** Two outputs that are no pair of the desk; what it does not have at all is told by itself. */
const pairProblems = ({ outputs }: Mix, path: string, { target }: Desk): readonly Problem[] => {
  const fault = outputs.some((output) => output > target.outputs.count) ? null : pairFault(outputs, target);
  return fault === null ? [] : [problem('pair-unknown', `${path}.outputs`, fault)];
};

/** What a rig asks of a desk that the desk does not have: outputs, pairs of them, slots, frequencies. */
export const rigOnDeskProblems = (rig: Rig, desk: Desk): readonly Problem[] => {
  const { count } = desk.target.outputs;
  const slotIds = desk.slots.map(({ id }) => id);
  return [
    ...frequencyProblems(rig, desk),
    ...rig.mixes.flatMap((mix, index) => [
      ...mix.outputs.flatMap((output, leg) =>
        output > count
          ? [
              problem(
                'output-unknown',
                `mixes[${index}].outputs[${leg}]`,
                `Mix ${quote(mix.name)} is on output ${output}; target ${quote(desk.target.id)} has outputs 1 to ${count}. Move the mix or choose another target.`,
              ),
            ]
          : [],
      ),
      ...pairProblems(mix, `mixes[${index}]`, desk),
      ...(mix.freeSlots ?? []).flatMap((id, place) =>
        slotIds.includes(id)
          ? []
          : [
              problem(
                'slot-unknown',
                `mixes[${index}].freeSlots[${place}]`,
                `Target ${quote(desk.target.id)} has no slot ${quote(id)}; it has ${slotIds.map(quote).join(', ')}. Name its slots or leave freeSlots out.`,
              ),
            ],
      ),
    ]),
  ];
};
