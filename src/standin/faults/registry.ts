import { delay } from './delay.js';
import { duplicate } from './duplicate.js';
import type { Fault } from './fault.js';
import { loss } from './loss.js';
import { meddle } from './meddle.js';
import { reorder } from './reorder.js';
import { silentAfter } from './silent-after.js';
import { stuck } from './stuck.js';
import { wrongType } from './wrong-type.js';

/** Every fault a stand-in can be asked for. A message meets those asked for in this order, an answer in reverse. */
export const faults: readonly Fault[] = [
  loss,
  duplicate,
  reorder,
  delay,
  silentAfter,
  meddle,
  stuck,
  wrongType,
];
