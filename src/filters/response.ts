/** The response of a chain of sections: frequencies in, one number per frequency out. */
export { logFrequencies } from './frequencies.js';
export { attenuationDbAt, magnitudeDb, magnitudeFloorDb, magnitudeSquared } from './magnitude.js';
export { groupDelaySeconds, phaseRadians } from './phase.js';
