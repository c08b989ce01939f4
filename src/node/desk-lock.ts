import { randomBytes } from 'node:crypto';
import { rmSync } from 'node:fs';
import { lstat, open, readdir, rm } from 'node:fs/promises';
import { userInfo } from 'node:os';
import { dirname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import { printable } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { fileProblem } from './file-problem.js';
import { makeFolders } from './folders.js';
import { isLoopback, plainAddress } from './network/address-scope.js';
import { placeText } from './network/unreachable.js';
import { isRunning, processStart } from './process-identity.js';

/*
 * Each process that wants a desk makes a file of its own, whose name says all there is to say, and has the desk once
 * it sees no other running process's file. Both files stand before either process looks, so of two at once at least
 * one sees the other, and two can never both think themselves alone. No file is ever taken over: one whose process
 * has gone counts for nothing, and can be removed by anybody at any time since no other will ever bear its name.
 */

/** A desk on the network, its name looked up. */
export interface DeskAddress {
  readonly address: string;
  readonly port: number;
}

export interface DeskLock {
  /** Lets others have the desk; safe to call more than once. */
  release(): Promise<void>;
}

interface Claim {
  readonly name: string;
  readonly pid: number;
  readonly start: string;
  readonly since: string;
}

/**
 * Where those that want a desk look for each other: one place for each user of this computer, whatever their environment
 * says of homes and folders for temporary files. Other users, and other computers, are not seen.
 */
export const lockFolder = (): string =>
  process.getuid === undefined
    ? join(userInfo().homedir, 'AppData', 'Local', 'Temp', 'bandwright', 'desks')
    : join('/tmp', `bandwright-${process.getuid()}`, 'desks');

/** Nobody else's folder is taken for one's own, nor one in such a folder: whoever made it could remove what stands in it. */
const refuseOthers = async (folder: string): Promise<void> => {
  if (process.getuid === undefined) return;
  for (const each of [dirname(folder), folder]) {
    const found = await lstat(each);
    const isOwn = found.isDirectory() && found.uid === process.getuid() && (found.mode & 0o022) === 0;
    // Where everybody may write, a sticky bit keeps others from what is one's own.
    const isShared = each !== folder && (found.mode & 0o1000) !== 0;
    if (!isOwn && !isShared)
      throw Object.assign(new Error(`${each} is not this user's alone`), { code: 'EACCES' });
  }
};

/** How long those that want a desk at the same moment may take to settle who has it. */
const settleMs = 1000;
const lookAgainMs = 20;

/**
 * One desk has one address, and may have several ports; but this computer's own ports are several programs, each of which
 * may listen at all of its addresses.
 */
const prefixOf = ({ address, port }: DeskAddress): string =>
  isLoopback(address)
    ? `.desk@this-computer@${port}@`
    : `.desk@${encodeURIComponent(plainAddress(address).toLowerCase())}@any@`;

/** `since@pid@start@token.lock`, so that earlier claims sort first; colons are not for every file system. */
const ownName = (prefix: string): string => {
  const since = new Date().toISOString().replaceAll(':', '-');
  const token = randomBytes(8).toString('hex');
  return `${prefix}${since}@${process.pid}@${processStart(process.pid)}@${token}.lock`;
};

const claimForm =
  /^(\d{4}-\d\d-\d\dT)(\d\d)-(\d\d)-(\d\d\.\d{3}Z)@([1-9]\d{0,8})@(\d{1,20})@[\da-f]{16}\.lock$/;

const claimIn = (name: string, prefix: string): Claim | null => {
  const found = name.startsWith(prefix) ? claimForm.exec(name.slice(prefix.length)) : null;
  if (!found) return null;
  const [, day, hour, minute, second, pid = '', start = ''] = found;
  return { name, pid: Number(pid), start, since: `${day}${hour}:${minute}:${second}` };
};

/** The claims of others whose processes run, the first in line first. What the others left behind is removed. */
const othersIn = async (folder: string, prefix: string, own: string): Promise<readonly Claim[]> => {
  const claims = (await readdir(folder))
    .sort()
    .map((name) => claimIn(name, prefix))
    .filter((claim) => claim !== null && claim.name !== own) as readonly Claim[];
  const running = claims.filter(({ pid, start }) => isRunning(pid, start));
  const gone = claims.filter((claim) => !running.includes(claim));
  // One that cannot be removed is in nobody's way.
  await Promise.all(gone.map(({ name }) => rm(join(folder, name), { force: true }).catch(() => undefined)));
  return running;
};

const busy = ({ address, port }: DeskAddress, { pid, since, name }: Claim, folder: string): Problem => {
  const who = pid === process.pid ? 'this process itself' : `process ${pid} of this computer`;
  return problem(
    'desk-busy',
    '',
    `${printable(placeText(address, port))}${isLoopback(address) ? '' : ', at whichever port,'} has been in use by ${who} since ${since.slice(0, 10)} ${since.slice(11, 19)} UTC, and two at once would undo each other's work. Nothing was sent. Wait for it to end, or end it with Ctrl-C; if process ${pid} is none of bandwright's, remove ${printable(join(folder, name))}.`,
  );
};

const claim = async (path: string): Promise<() => void> => {
  const remove = () => {
    try {
      rmSync(path, { force: true });
    } catch {
      // It counts for nothing once this process has ended, and the next one removes it.
    }
  };
  await (await open(path, 'wx', 0o600)).close();
  process.once('exit', remove);
  return () => {
    remove();
    process.off('exit', remove);
  };
};

/** A lock once its holder is alone, or the claim that is in its way. Throws as the file system does. */
const contend = async (folder: string, prefix: string): Promise<DeskLock | Claim> => {
  const until = performance.now() + settleMs;
  for (;;) {
    const name = ownName(prefix);
    // Whoever sees somebody in line before it begins does not push in, so that a contest comes to an end.
    let [first] = await othersIn(folder, prefix, name);
    if (!first) {
      const withdraw = await claim(join(folder, name));
      try {
        do {
          [first] = await othersIn(folder, prefix, name);
          if (!first) return { release: async () => withdraw() };
          // The first in line waits for those behind it to step back; these do so at once.
          if (name < first.name) await wait(lookAgainMs);
        } while (name < first.name && performance.now() < until);
      } catch (error) {
        withdraw();
        throw error;
      }
      withdraw();
    }
    if (performance.now() >= until) return first;
    await wait(lookAgainMs);
  }
};

/**
 * Takes a desk for this process alone, among those that look into the same folder, which is made where it is missing.
 * It is let go when the process ends, however it ends. Problems: `desk-busy`, `lock-unwritable`.
 */
export const lockDesk = async (folder: string, desk: DeskAddress): Promise<Outcome<DeskLock>> => {
  try {
    await makeFolders(folder, 0o700);
    await refuseOthers(folder);
    const settled = await contend(folder, prefixOf(desk));
    return 'release' in settled ? ok(settled) : fail([busy(desk, settled, folder)]);
  } catch (error) {
    return fail([fileProblem('lock-unwritable', folder, 'tell other pushes of this one in', error)]);
  }
};
