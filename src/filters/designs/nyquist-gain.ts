import type { Hz } from '../../units/quantity.js';
import { type Bell, bellOf } from '../prototype.js';
import { flatSection, type Section } from '../section.js';
import { qOfBandwidth } from '../widths.js';
import type { Design } from './design.js';

/**
 * Orfanidis, "Digital Parametric Equalizer Design with Prescribed Nyquist-Frequency Gain", JAES 45(6), 1997:
 * bells whose gain at half the sample rate is the analogue bell's own, so that they hardly narrow.
 *
 * It covers what the paper's one form yields: bells and, as its limits, the notch (gain 0) and the bandpass
 * (reference gain 0). It has no cuts, shelves or all-passes: the cookbook makes those.
 */
export const nyquistGainDesign: Design = {
  name: 'nyquist-gain',
  summary: "bells that keep the analogue bell's gain at half the sample rate (Orfanidis 1997)",
  covers: ['bandpass', 'notch', 'peaking'],
  domain: 'z',
  qOfBandwidth,
  section: (plan, rateHz) => {
    const bell = bellOf(plan);
    if (bell === null || plan.order === 1) {
      throw new RangeError(`the nyquist-gain design has no formula for ${plan.type}`);
    }
    if (bell.peak === bell.reference) return flatSection(rateHz);
    return bellSection(bell, 1 / (plan.q * plan.q), plan.frequencyHz, rateHz);
  },
};

/**
 * The furthest an upper band edge may lie on the way from the centre to half the sample rate. Nearer to its end the
 * paper's design turns so abruptly with Q that a narrower bell would take more than a wider one.
 */
const furthestEdge = 0.9;

/** u at an angular frequency (see `Bell`). */
const distance = (w: number, w0: number): number => (w / w0 - w0 / w) ** 2;

/**
 * The paper's formulae, in its names: G0 reference, G1 Nyquist, G peak and GB bandwidth gain, A, B, W². With G² − G0²
 * divided out, which all its differences of squared gains hold, and F01 − √(F00 F11) and G01 − √(G00 G11) turned
 * into quotients by their conjugates, nothing cancels: the faintest bell comes as exact as the deepest notch.
 *
 * The usual GB is √G, at half power for notch and bandpass, and the band is then f/Q wide. A band that would end
 * beyond `furthestEdge` is measured nearer the peak instead: up to there, at the GB the analogue bell has there.
 */
const bellSection = (bell: Bell, widthU: number, frequencyHz: Hz, rateHz: Hz): Section => {
  const w0 = (2 * Math.PI * frequencyHz) / rateHz;
  const k = 1 / (bell.poleQ * bell.poleQ);
  const nyquistU = distance(Math.PI, w0);
  const bandU = Math.min(widthU, distance(w0 + furthestEdge * (Math.PI - w0), w0));
  const halfBand = Math.tan((w0 * Math.sqrt(bandU)) / 2);

  const G0 = bell.reference;
  const GG = bell.peak * bell.peak;
  const GGB = (G0 * G0 * bandU + GG * k) / (bandU + k);
  const G1 = Math.sqrt((G0 * G0 * nyquistU + GG * k) / (nyquistU + k));
  const F = bandU / (bandU + k);
  const rootF00 = Math.sqrt(k / (bandU + k));
  const rootF11 = rootF00 * Math.sqrt((nyquistU - bandU) / (nyquistU + k));
  const rootG11 = Math.sqrt(nyquistU / (nyquistU + k));
  const WW = rootG11 * Math.tan(w0 / 2) ** 2;

  const band = ((rootF11 + rootF00 * WW) * halfBand) ** 2;
  const shared = (2 * WW * (k / (nyquistU + k)) ** 2) / (G0 + G1);
  const atBand = shared / ((rootF00 + rootF11) * (rootF00 * G1 + G0 * rootF11));
  const atPeak = shared / ((1 + rootG11) * (G1 + G0 * rootG11));
  // C = band − GB² atBand and D = G² atPeak; the squares are never below 0 but for rounding.
  const A = Math.sqrt(Math.max(0, band - GGB * atBand + GG * atPeak) / F);
  const B = bell.peak * Math.sqrt(Math.max(0, band - GGB * atBand + GGB * atPeak) / F);

  const scale = 1 + WW + A;
  return {
    domain: 'z',
    rateHz,
    b0: (G1 + G0 * WW + B) / scale,
    b1: (-2 * (G1 - G0 * WW)) / scale,
    b2: (G1 + G0 * WW - B) / scale,
    a0: 1,
    a1: (-2 * (1 - WW)) / scale,
    a2: (1 + WW - A) / scale,
  };
};
