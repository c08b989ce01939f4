/**
 * Stands in for `node:child_process` in the bundle. Only commander asks for it, to run subcommands that are
 * programs of their own; ours never are, and loading it would cost every start some milliseconds.
 */
export const spawn = (): never => {
  throw new RangeError('no command of ours is a program of its own');
};
