import type { Recipe } from './matrix.js';
import type { FilterJson, MixJson } from './shapes.js';

const valueNames: Readonly<Record<string, string>> = {
  frequency: 'frequencyHz',
  q: 'q',
  bandwidth: 'bandwidthOctaves',
  slope: 'slopeDbPerOctave',
  gain: 'gainDb',
};

const filled = (template: string, output: number, slot: string): string =>
  template.replace(/\{(output|slot)(?::0(\d))?\}/g, (_, name, digits) =>
    String(name === 'output' ? output : slot).padStart(Number(digits ?? 0), '0'),
  );

interface Place {
  readonly mix: MixJson;
  readonly placed: FilterJson;
  readonly output: number;
}

/** The filters to set and where: the first output of a pair where its legs share their filters, else both. */
const placesOf = ({ json, target }: Recipe): readonly Place[] =>
  json.mixes
    .filter(({ treatment }) => treatment === 'protect')
    .flatMap((mix) =>
      (target.outputs.stereo === 'legs-share' ? mix.outputs.slice(0, 1) : mix.outputs).flatMap((output) =>
        mix.filters.map((placed) => ({ mix, placed, output })),
      ),
    );

/** Every address that setting the recipe may touch. */
export const reachedAddresses = (recipe: Recipe): ReadonlySet<string> =>
  new Set(
    placesOf(recipe).flatMap(({ placed, output }) =>
      Object.values(recipe.target.osc?.addresses ?? {}).map((template) =>
        filled(template, output, placed.slot),
      ),
    ),
  );

/** What each knob that turns is to be sent, as the target says that values travel. */
export const expectedValues = (recipe: Recipe): ReadonlyMap<string, number | string> => {
  const { addresses = {}, encodings = {} } = recipe.target.osc ?? {};
  const values = new Map<string, number | string>();
  for (const { placed, output } of placesOf(recipe)) {
    const offered = recipe.target.slots.find(({ id }) => id === placed.slot)?.types[placed.type];
    for (const [knob, position] of Object.entries(placed.steps)) {
      const [template, encoding] = [addresses[knob], encodings[knob]];
      if (typeof offered?.[knob] === 'number' || !template || !encoding) continue;
      const { index, of, display } = position;
      const value = {
        engineering: placed.set[valueNames[knob] ?? ''],
        index,
        fraction: index / (of - 1),
        text: display,
      }[encoding.as];
      if (value === undefined) throw new Error(`no value of ${knob} to send as ${encoding.as}`);
      values.set(filled(template, output, placed.slot), value);
    }
  }
  return values;
};
