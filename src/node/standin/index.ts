/** The door of the library to the stand-in: a simulated desk on a real socket of this computer. */

export type { Clock } from '../../live/session/clock.js';
export type { StandinOutputs } from '../../standin/address-map.js';
export type {
  Author,
  Counts,
  DialPlace,
  FaultEvent,
  IgnoredEvent,
  MalformedEvent,
  NetworkEvent,
  ReadEvent,
  RefusedEvent,
  StandinEvent,
  WriteEvent,
} from '../../standin/events.js';
export type { StandinKnob, StandinSlot, StandinState } from '../../standin/snapshot.js';
export { type RunningStandin, type StartStandinOptions, startStandin } from './start-standin.js';
