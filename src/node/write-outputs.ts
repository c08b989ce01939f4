import { type FileHandle, link, lstat, open, realpath, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import { printable } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { fileProblem } from './file-problem.js';
import { makeFolders } from './folders.js';
import { forgetUnfinished, rememberUnfinished, removeEmptyFolders } from './unfinished.js';

/** An output that has been opened but does not bear its name yet: either all of it appears, or nothing. */
export interface PendingOutput {
  readonly path: string;
  /** Writes the whole content and flushes it to the disk, still under a hidden name. */
  fill(content: string | Uint8Array): Promise<Outcome<string>>;
  /** Gives it its name, in one move. */
  publish(): Promise<Outcome<string>>;
  /** Removes what was opened; safe at any time before it is published. */
  discard(): Promise<void>;
}

export interface OutputRules {
  /** Files being read: an output never takes the place of one. */
  readonly inputs: readonly string[];
  /** Whether a file that stands there already may be replaced. */
  readonly overwrite: boolean;
}

const refuse = (code: string, path: string, message: string): Problem => ({
  ...problem(code, '', message),
  source: printable(path),
});

const isTaken = async (path: string): Promise<boolean> => (await lstat(path).catch(() => null)) !== null;

const standsThere = (path: string): Problem =>
  refuse(
    'output-exists',
    path,
    `${printable(path)} exists already and is left as it is. Name another output, or have it replaced with overwrite.`,
  );

/** The real place a path leads to, also where the file itself does not exist yet. */
const realPlace = async (path: string): Promise<string> => {
  try {
    return await realpath(path);
  } catch {
    const folder = await realpath(dirname(path)).catch(() => dirname(path));
    return join(folder, basename(path));
  }
};

const standingProblem = async (path: string, rules: OutputRules): Promise<Problem | null> => {
  const place = await realPlace(resolve(path));
  for (const input of rules.inputs) {
    if ((await realPlace(resolve(input))) === place) {
      return refuse(
        'output-is-input',
        path,
        `${printable(path)} is one of the files being read; writing there would lose it. Name another output.`,
      );
    }
  }
  const standing = await stat(resolve(path)).catch(() => null);
  // A link that leads nowhere stands there too.
  if (!standing && !rules.overwrite && (await isTaken(resolve(path)))) return standsThere(path);
  if (standing?.isDirectory()) {
    return refuse('output-is-folder', path, `${printable(path)} is a folder. Name a file in it.`);
  }
  if (standing && !standing.isFile()) {
    return refuse(
      'file-unwritable',
      path,
      `${printable(path)} is no file but a device, a pipe or a socket; a file would take its place. Give - to write to standard output.`,
    );
  }
  if (standing && !rules.overwrite) {
    return standsThere(path);
  }
  return null;
};

/** What file systems answer that know no second names. */
const noLinks: readonly string[] = ['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EINVAL', 'EMLINK'];

/** Gives a file a name that nobody else has taken meanwhile, or throws. */
const takeName = async (temporary: string, absolute: string): Promise<void> => {
  try {
    await link(temporary, absolute);
  } catch (error) {
    if (!noLinks.includes((error as NodeJS.ErrnoException).code ?? '')) throw error;
    // Between this look and the move somebody might still come in; no more can be had there.
    if (await isTaken(absolute)) throw Object.assign(new Error('it is there'), { code: 'EEXIST' });
    await rename(temporary, absolute);
    return;
  }
  await rm(temporary, { force: true });
};

const pendingOutput = (
  path: string,
  absolute: string,
  temporary: string,
  handle: FileHandle,
  { overwrite }: OutputRules,
): PendingOutput => {
  const discard = async (): Promise<void> => {
    await handle.close().catch(() => undefined);
    await rm(temporary, { force: true });
    forgetUnfinished(temporary);
    removeEmptyFolders();
  };
  const attempt = async (work: () => Promise<void>): Promise<Outcome<string>> => {
    try {
      await work();
      return ok(path);
    } catch (error) {
      await discard();
      return fail([fileProblem('file-unwritable', path, 'write', error)]);
    }
  };
  return {
    path,
    discard,
    fill: (content) =>
      attempt(async () => {
        await handle.writeFile(content);
        await handle.sync();
        await handle.close();
      }),
    publish: async () => {
      const taken = await attempt(() =>
        overwrite ? rename(temporary, absolute) : takeName(temporary, absolute),
      );
      if (taken.ok) forgetUnfinished(temporary);
      const stood = !taken.ok && !overwrite && (await isTaken(absolute));
      return stood ? fail([standsThere(path)]) : taken;
    },
  };
};

/**
 * Opens an output before the work begins, so that a path that cannot be written is found out first. The
 * content goes to a hidden file beside it, which takes the name in one move once it is whole.
 */
export const openOutput = async (path: string, rules: OutputRules): Promise<Outcome<PendingOutput>> => {
  const standing = await standingProblem(path, rules);
  if (standing) return fail([standing]);
  const absolute = resolve(path);
  const temporary = join(dirname(absolute), `.${basename(absolute)}.${process.pid}.part`);
  try {
    await makeFolders(dirname(absolute));
    const handle = await open(temporary, 'wx');
    rememberUnfinished(temporary);
    return ok(pendingOutput(path, absolute, temporary, handle, rules));
  } catch (error) {
    removeEmptyFolders();
    return fail([fileProblem('file-unwritable', path, 'write', error)]);
  }
};

/** Fills every output, then publishes every one: a failure half-way leaves none of them behind unfilled. */
export const writeOutputs = async (
  outputs: readonly { readonly pending: PendingOutput; readonly content: string | Uint8Array }[],
): Promise<Outcome<readonly string[]>> => {
  const discardAll = () => Promise.all(outputs.map(({ pending }) => pending.discard()));
  for (const { pending, content } of outputs) {
    const filled = await pending.fill(content);
    if (!filled.ok) {
      await discardAll();
      return filled;
    }
  }
  for (const { pending } of outputs) {
    const published = await pending.publish();
    if (!published.ok) {
      await discardAll();
      return published;
    }
  }
  return ok(outputs.map(({ pending }) => pending.path));
};
