import { describe, expect, it } from 'vitest';
import * as main from '../src/index.js';
import * as node from '../src/node/index.js';
import * as standin from '../src/node/standin/index.js';

/** What others build on. Whatever is taken from these lists breaks them; whatever is added must be kept. */
const mainNames = [
  'attenuationDbAt',
  'bandwidthMeanings',
  'buildChain',
  'buildSections',
  'cents',
  'centsBetween',
  'cutFamilies',
  'db',
  'dbPerOctave',
  'designNames',
  'exporters',
  'filterTypes',
  'fits',
  'formatCents',
  'formatDecibels',
  'formatExact',
  'formatFrequency',
  'formatGain',
  'formatOctaves',
  'formatPerCent',
  'formatQ',
  'formatSlope',
  'groupDelaySeconds',
  'guardFigures',
  'guardScope',
  'guardTask',
  'hz',
  'immediately',
  'knobs',
  'links',
  'logFrequencies',
  'magnitudeDb',
  'magnitudeSquared',
  'makeDesk',
  'makeIntentsRecipe',
  'makeOscCodec',
  'makeQuantiser',
  'makeRecipe',
  'nearestStep',
  'octaves',
  'oscTransports',
  'parseBandwidth',
  'parseCount',
  'parseFrequency',
  'parseGain',
  'parseOutputs',
  'parseQ',
  'parseSlope',
  'phaseRadians',
  'pilotReach',
  'preEmphasisDb',
  'protectiveIntents',
  'protectiveRoles',
  'q',
  'qMeanings',
  'quantiserKinds',
  'readDocument',
  'readIntents',
  'readJournal',
  'readRecipe',
  'readRig',
  'readTarget',
  'recipeMessages',
  'step',
  'stepOf',
  'stepsAround',
  'tradeoff',
  'usualLossLimitsDb',
  'writeJson',
  'writeXml',
];

const nodeNames = [
  'isReadJournal',
  'journalFolder',
  'listJournals',
  'loadQuantiserKinds',
  'loadTarget',
  'readInput',
  'shippedTargets',
];

const standinNames = ['startStandin'];

describe.each([
  { door: 'bandwright', exported: Object.keys(main), names: mainNames },
  { door: 'bandwright/node', exported: Object.keys(node), names: nodeNames },
  { door: 'bandwright/standin', exported: Object.keys(standin), names: standinNames },
])('$door', ({ exported, names }) => {
  it('exports these names and no others', () => {
    expect([...exported].sort()).toEqual(names);
  });
});
