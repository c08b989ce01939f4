import type { Desk } from '../model/desk.js';
import { pathTo } from '../model/path.js';
import { type Problem, problem } from '../model/problem.js';
import type { Rig } from '../model/rig.js';
import { quote } from '../units/quote.js';

/** Frequencies a rig asks about that some way of building the desk's filters cannot even carry. */
const beyondDigital = (rig: Rig, { target }: Desk): readonly Problem[] => {
  const rates = target.realisations.flatMap(({ sampleRateHz }) => sampleRateHz ?? []);
  const halfHz = Math.min(...rates) / 2;
  const windowHz = rig.guard?.windowHz ?? 0;
  const asked: readonly (readonly [path: string, frequencyHz: number | undefined])[] = [
    ...Object.entries(rig.systems).map(
      ([id, system]) =>
        [
          pathTo(pathTo('systems', id), 'pilotHz'),
          system.link === 'fm-stereo' && system.pilotHz !== undefined ? system.pilotHz + windowHz : undefined,
        ] as const,
    ),
    ['guard.keepHighHz', rig.guard?.keepHighHz],
    ...(rig.intents ?? []).map(
      ({ frequencyHz }, index) => [`intents[${index}].frequencyHz`, frequencyHz] as const,
    ),
  ];
  return asked.flatMap(([path, frequencyHz]) =>
    frequencyHz !== undefined && frequencyHz >= halfHz
      ? [
          problem(
            'beyond-sample-rate',
            path,
            `${frequencyHz} Hz is asked about; target ${quote(target.id)} may run at ${Math.min(...rates)} Hz, where nothing from ${halfHz} Hz up exists. Correct the frequency, or the target's sample rates.`,
          ),
        ]
      : [],
  );
};

/** What a rig asks of a desk that the desk does not have: outputs, slots, frequencies. */
export const rigOnDeskProblems = (rig: Rig, desk: Desk): readonly Problem[] => {
  const { count } = desk.target.outputs;
  const slotIds = desk.slots.map(({ id }) => id);
  return [
    ...beyondDigital(rig, desk),
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
