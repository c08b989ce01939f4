import { readFile } from 'node:fs/promises';
import {
  exporters,
  fits,
  makeDesk,
  makeRecipe,
  quantiserKinds,
  readRig,
  readTarget,
} from '../../dist/index.js';
import { pathOf, runRecipe } from './processes.mjs';
import { interleave, median } from './rounds.mjs';

const rig = 'test/fixtures/rig-24-mixes.json';
/** A shipped target with outputs enough for 24 pairs. */
const target = 'floats';

const valueIn = (outcome) => {
  if (!outcome.ok) throw new Error(outcome.error.map(({ message }) => message).join('\n'));
  return outcome.value;
};

/** From the bytes of both files to the text of the recipe, as the command does it, nothing kept from before. */
const makeText = async (rigBytes, targetBytes, fit) => {
  const desk = valueIn(makeDesk(valueIn(readTarget(targetBytes, { source: target })), quantiserKinds));
  const recipe = valueIn(
    makeRecipe(valueIn(readRig(rigBytes, { source: rig })), desk, { fit, spareSlots: 0 }),
  );
  const text = exporters.find(({ name }) => name === 'text');
  return valueIn(text.content(recipe, { target: desk.target }));
};

/** The whole recipe of a rig of 24 mixes, by each fit: as a process, and once the code is warm. */
export const measureRecipe = async (rounds) => {
  const [rigBytes, targetBytes] = await Promise.all([
    readFile(pathOf(rig)),
    readFile(pathOf(`targets/${target}.json`)),
  ]);
  const measured = [];
  for (const fit of fits) {
    const milliseconds = await interleave(
      {
        process: () => runRecipe(rig, target, fit.name),
        warm: () => makeText(rigBytes, targetBytes, fit),
      },
      rounds,
    );
    const medians = { process: median(milliseconds.process), warm: median(milliseconds.warm) };
    measured.push({ rig, target, fit: fit.name, medians, milliseconds });
  }
  return measured;
};
