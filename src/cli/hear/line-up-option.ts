import { Option } from 'commander';
import { type Db, db } from '../../units/quantity.js';
import { fail, ok, type Result } from '../../units/result.js';
import { parseTyped, readNumber } from '../../units/typed.js';
import { parsedBy } from '../words/options.js';

/** As rigs may state it. */
const [lowestDbfs, highestDbfs] = [-60, 24];

/** A line-up in dBFS: `-6`, `-6 dBFS`. */
const parseLineUp = (text: string): Result<Db, string> =>
  parseTyped(text, {
    allowed: `a line-up is ${lowestDbfs} to ${highestDbfs} dBFS, as in "-6 dBFS" or "-6"`,
    read: (typed) => {
      const level = readNumber(typed, { '': 0, db: 0, dbfs: 0 });
      if (!level.ok) return level;
      const isAllowed = lowestDbfs <= level.value && level.value <= highestDbfs;
      return isAllowed ? ok(db(level.value)) : fail('is outside of that');
    },
  });

export const lineUpOption = () =>
  new Option(
    '--line-up <level>',
    'with --hear: the level in dBFS at which a 1 kHz sine takes 90 % of deviation (default: 0 dBFS)',
  ).argParser(parsedBy(parseLineUp));
