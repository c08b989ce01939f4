/**
 * Desks that nobody described, and an engineer who reads them: values from formulas of their own and displays by
 * toFixed and string cutting, so that nothing here shares code with what it judges.
 */

export interface Display {
  /** Digits in all, or after the point. */
  readonly digits?: number;
  readonly decimals?: number;
  /** From this value up it is shown in thousands, with a k. */
  readonly kiloFrom?: number;
  readonly cuts: boolean;
}

export interface SimulatedDesk {
  readonly kind: string;
  /** Rising. Empty for a knob without steps. */
  readonly values: readonly number[];
  readonly display: Display;
  readonly knob: 'frequency' | 'q' | 'gain' | 'slope';
}

/** Numerical Recipes' linear congruential generator, from memory: the same numbers everywhere. */
export const randomFrom = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
};

const digitsBefore = (value: number): number => (value < 1 ? 1 : String(Math.trunc(value)).length);

/** A value as text; cutting goes by strings, after more digits than a double means. */
export const show = (
  value: number,
  { digits, decimals, kiloFrom = Number.POSITIVE_INFINITY, cuts }: Display,
): string => {
  const rounded = (size: number, places: number): string => {
    if (!cuts) return size.toFixed(places);
    const long = size.toFixed(places + 9);
    // A decimal that a double holds a hair below itself is not cut to the one before.
    const whole =
      Math.abs(size - Number(size.toFixed(places))) < 1e-9 * Math.abs(size) ? size.toFixed(places) : long;
    return places === 0 ? (whole.split('.')[0] ?? '') : whole.slice(0, whole.indexOf('.') + 1 + places);
  };
  const isKilo = Math.abs(value) >= kiloFrom * (1 - (cuts ? 0 : 0.00001));
  const size = isKilo ? value / 1000 : value;
  const places = (of: number) => decimals ?? Math.max(0, (digits ?? 4) - digitsBefore(Math.abs(of)));
  let text = rounded(size, places(size));
  // 9.996 with three digits is 10.0.
  if (digits !== undefined && !cuts) text = rounded(size, places(Number(text)));
  return `${text}${isKilo ? 'k' : ''}`;
};

/** One reading as the engineer types it, and where the knob stood. */
interface Taken {
  text: string;
  readonly index: number;
  readonly link: string;
  readonly mark: string;
  isSure: boolean;
}

/** What an engineer is asked to do next, as far as this one understands it. */
export type Asked =
  | { readonly kind: 'stop'; readonly end: 'bottom' | 'top' }
  | { readonly kind: 'near'; readonly value: number; readonly thenClicksUp: number | null }
  | {
      readonly kind: 'clicks';
      readonly from: { readonly text: string; readonly stop: 'bottom' | 'top' | null };
      readonly clicksUp: number;
    }
  | { readonly kind: 'again'; readonly reading: { readonly text: string } };

/** Somebody at the desk: does what is asked, reads, and now and then misreads. */
export class Engineer {
  readonly taken: Taken[] = [];
  readings = 0;
  slippedAt: number | null = null;
  constructor(
    readonly desk: SimulatedDesk,
    readonly slip: { readonly reading: number; wrong(shown: string): string } | null = null,
  ) {}

  private take(index: number, link: string): void {
    const { values, display } = this.desk;
    const last = values.length - 1;
    const at = Math.max(0, Math.min(index, last));
    const right = show(values[at] ?? Number.NaN, display);
    const slips = this.slip?.reading === this.taken.length && this.slippedAt === null;
    if (slips) this.slippedAt = this.taken.length;
    const mark = at === 0 ? ' bottom' : at === last ? ' top' : '';
    this.taken.push({
      text: slips ? (this.slip?.wrong(right) ?? right) : right,
      index: at,
      link,
      mark,
      isSure: false,
    });
    this.readings += 1;
  }

  private nearest(value: number): number {
    const far = (each: number) => Math.abs(each - value);
    return this.desk.values.reduce((best, each, at, all) => (far(each) < far(all[best] ?? 0) ? at : best), 0);
  }

  private turn(from: number, clicks: number): void {
    const to = Math.max(0, Math.min(from + clicks, this.desk.values.length - 1));
    const turned = to - from;
    this.take(to, `${Math.abs(turned)} clicks ${turned >= 0 ? 'up' : 'down'}`);
  }

  /** Whether it could be done. */
  do(asked: Asked): boolean {
    switch (asked.kind) {
      case 'stop':
        this.take(asked.end === 'top' ? this.desk.values.length - 1 : 0, '..');
        return true;
      case 'near': {
        this.take(this.nearest(asked.value), '..');
        const here = this.taken.at(-1)?.index ?? 0;
        if (asked.thenClicksUp !== null && here < this.desk.values.length - 1)
          this.turn(here, asked.thenClicksUp);
        return true;
      }
      case 'clicks': {
        const { stop } = asked.from;
        const last = this.taken.at(-1);
        if (stop !== null && last?.mark.trim() !== stop) {
          // Back to the stop, which reads as it read before.
          const before = this.taken.find(({ mark }) => mark.trim() === stop);
          if (!before) return false;
          this.taken.push({ ...before, link: '..' });
        }
        this.turn(this.taken.at(-1)?.index ?? 0, asked.clicksUp);
        return true;
      }
      case 'again': {
        let isFound = false;
        for (const each of this.taken) {
          if (each.text !== asked.reading.text || each.isSure) continue;
          each.text = show(this.desk.values[each.index] ?? Number.NaN, this.desk.display);
          each.isSure = true;
          isFound = true;
        }
        this.readings += 1;
        return isFound;
      }
    }
  }

  /** All that was read, as it is typed. */
  get typed(): string {
    return this.taken
      .map(
        ({ text, link, mark, isSure }, at) =>
          `${at === 0 ? '' : `${link} `}${text}${isSure ? '!' : ''}${mark}`,
      )
      .join(' ');
  }
}
