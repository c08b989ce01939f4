/** What a knob answers to a value it was sent: where it stands then, and whether that is elsewhere than before. */
export interface KnobAnswer {
  readonly value: number;
  /** Whether it moved. Where it did not, the desk refused what it was sent, or it stood nearest to that already. */
  readonly moved: boolean;
}

/** A search on one knob, pure of how it is talked to: it yields what to send, and is given what the knob answers. */
export type Probing<Found> = Generator<number, Found, KnobAnswer>;

/** Follows a search to its end, asking a knob; null where the asking ended first. */
export const follow = async <Found>(
  probing: Probing<Found>,
  ask: (value: number) => Promise<KnobAnswer | null>,
): Promise<Found | null> => {
  let turn = probing.next();
  while (!turn.done) {
    const answer = await ask(turn.value);
    if (answer === null) return null;
    turn = probing.next(answer);
  }
  return turn.value;
};

/** How a desk takes a value that lies between two of its steps. */
export type Between = 'nearest' | 'below' | 'above';

/** A knob as a search needs to know it. */
export interface ProbedKnob {
  /** How far apart its values are, as they are dialled. */
  readonly measure: 'ratio' | 'difference';
  /** Where it stands. */
  readonly standing: number;
  /** What is sent to find its stops: further than any desk goes. */
  readonly lowest: number;
  readonly highest: number;
  /** The next value that can be sent and told, upwards (1) or downwards (-1). */
  next(value: number, direction: 1 | -1): number;
  /** A value as it arrives once it was sent. */
  asSent(value: number): number;
}

/** A place between two values: 0 is the first of them, 1 the second. */
export const placeBetween = (
  { measure }: Pick<ProbedKnob, 'measure'>,
  from: number,
  to: number,
  share: number,
): number => (measure === 'ratio' ? from * (to / from) ** share : from + (to - from) * share);

/** How far it is from one value to another: octaves, or what separates them. */
export const distance = ({ measure }: Pick<ProbedKnob, 'measure'>, from: number, to: number): number =>
  Math.abs(measure === 'ratio' ? Math.log2(to / from) : to - from);
