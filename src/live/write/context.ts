import type { Desk } from '../../model/desk.js';
import type { Clock } from '../session/clock.js';
import type { Line } from '../session/session.js';

/** What work on a desk needs. */
export interface WorkContext {
  readonly desk: Desk;
  readonly line: Line;
  readonly canRead: boolean;
}

/** What work on whole mixes needs besides. */
export interface MixContext extends WorkContext {
  readonly clock: Clock;
  /** Given when the user interrupts: the mix under work is put back, and no other is begun. */
  readonly signal: AbortSignal;
  /** Given when the user insists: everything stops where it is. */
  readonly hardSignal: AbortSignal;
  /** Told before each mix. */
  onMix(name: string, index: number, of: number): void;
}
