/**
 * Branded numbers: a value carries its unit in its type, so a frequency cannot be passed where a gain is
 * meant. At run time they are plain numbers.
 */
declare const unit: unique symbol;

/** A number that carries a unit. */
export type Quantity<Unit extends string> = number & { readonly [unit]: Unit };

/** Frequency in hertz. */
export type Hz = Quantity<'Hz'>;
/** Level or gain in decibels. */
export type Db = Quantity<'dB'>;
/** Quality factor, dimensionless. */
export type Q = Quantity<'Q'>;
/** Bandwidth in octaves. */
export type Octaves = Quantity<'oct'>;
/** Slope of a cut, in decibels per octave. */
export type DbPerOctave = Quantity<'dB/oct'>;
/** Interval in cents: 1200 · log2(f2 / f1). */
export type Cents = Quantity<'cent'>;
/** Index of a value on a grid, counted from 0 at the bottom stop. */
export type Step = Quantity<'step'>;

const brand =
  <Branded extends Quantity<string>>() =>
  (value: number): Branded =>
    value as Branded;

/* Each says which unit a plain number is in: nothing is checked, converted or rounded. */

/** A frequency in hertz. */
export const hz = brand<Hz>();
/** A level or gain in decibels. */
export const db = brand<Db>();
/** A quality factor. */
export const q = brand<Q>();
/** A bandwidth in octaves. */
export const octaves = brand<Octaves>();
/** A slope in decibels per octave. */
export const dbPerOctave = brand<DbPerOctave>();
/** An interval in cents. */
export const cents = brand<Cents>();
/** The index of a value on a grid, a whole number from 0. */
export const step = brand<Step>();

/** The interval from one frequency to another, in cents (1200 to the octave, ISO 80000-8). */
export const centsBetween = (from: Hz, to: Hz): Cents => cents(1200 * Math.log2(to / from));
