import { readFile } from 'node:fs/promises';
import { exporters, fits, makeDesk, makeRecipe, readRig, readTarget } from '../../dist/index.js';
import { pathOf } from './processes.mjs';
import { interleave, median } from './rounds.mjs';

const targetName = 'floats';

const valueIn = (outcome) => {
  if (!outcome.ok) throw new Error(outcome.error.map(({ message }) => message).join('\n'));
  return outcome.value;
};

/** The rig of 24 mixes as it stands, and with all of them in a system of their own: then no two share a picture. */
const rigs = async () => {
  const shared = JSON.parse(await readFile(pathOf('test/fixtures/rig-24-mixes.json'), 'utf8'));
  const system = (index) => ({
    link: 'fm-stereo',
    audioLowHz: 35 + index / 8,
    audioHighHz: 14_000 + 50 * index,
    preEmphasisMicroseconds: index % 2 === 0 ? 50 : 75,
  });
  const alone = {
    ...shared,
    systems: Object.fromEntries(shared.mixes.map((_, index) => [`packs-${index}`, system(index)])),
    mixes: shared.mixes.map(({ freeSlots: _, ...mix }, index) => ({ ...mix, feeds: `packs-${index}` })),
  };
  return { shared, alone };
};

/** The sheet of 24 mixes beside the JSON of the same recipe: how long either takes to write, and how large it is. */
export const measureSheet = async (rounds) => {
  const target = valueIn(
    readTarget(await readFile(pathOf(`targets/${targetName}.json`)), { source: targetName }),
  );
  const desk = valueIn(makeDesk(target));
  const fit = fits.find(({ name }) => name === 'nearest');
  const measured = [];
  for (const [name, rig] of Object.entries(await rigs())) {
    const read = valueIn(readRig(JSON.stringify(rig), { source: name }));
    const recipe = valueIn(makeRecipe(read, desk, { fit, spareSlots: 0 }));
    const write = (form) =>
      valueIn(exporters.find((each) => each.name === form).content(recipe, { target, desk }));
    const milliseconds = await interleave({ sheet: () => write('sheet'), json: () => write('json') }, rounds);
    const medians = { sheet: median(milliseconds.sheet), json: median(milliseconds.json) };
    const bytes = { sheet: Buffer.byteLength(write('sheet')), json: Buffer.byteLength(write('json')) };
    measured.push({ name, target: targetName, mixes: rig.mixes.length, medians, bytes, milliseconds });
  }
  return measured;
};
