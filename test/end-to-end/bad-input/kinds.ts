import { type Case, grid, kind, show } from './case.js';

/** Modules for --quantiser. */
export const badKinds: readonly Case[] = [
  kind('one that exports nothing', '', 'default export'),
  kind('one that exports a number', 'export default 7;', 'default export'),
  kind('one that breaks off', 'export default {', 'Unexpected end of input'),
  kind('one that throws', 'throw new Error("no \\u001b[31mluck");', 'no \\u{1b}[31mluck'),
  kind('one that throws null', 'throw null;', 'no reason given'),
  kind('an unfit name', 'export default { kind: "Odd One", summary: "odd", create() {} };', 'default export'),
  kind(
    "a built-in kind's name",
    'export default { kind: "linear", summary: "odd", create() {} };',
    '"linear"',
    'Rename it',
  ),
  { ...kind('none there', '', 'it does not exist'), files: show },
  grid('one whose create throws', '{ throw new Error("no \\u001b[31mluck"); }', 'no \\u{1b}[31mluck'),
  grid('one that makes nothing', 'null', 'at fault'),
  grid(
    'one that refuses',
    '({ ok: false, error: "never on a \\u001b[31mTuesday" })',
    'never on a \\u{1b}[31mTuesday',
  ),
  grid(
    'a grid that falls',
    '({ ok: true, value: { count: 3, valueAt: (n) => 100 - n } })',
    'valueAt(1) is 99',
  ),
  grid('a grid of NaN', '({ ok: true, value: { count: 3, valueAt: () => NaN } })', 'valueAt(0) is NaN'),
  grid('a grid without ends', '({ ok: true, value: { count: 3, valueAt: (n) => n + 20 } })', 'RangeError'),
  grid('a grid without steps', '({ ok: true, value: { count: 0, valueAt: (n) => n } })', 'count', '0'),
];
