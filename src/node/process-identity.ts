import { readFileSync } from 'node:fs';

interface ProcessStatus {
  readonly state: string;
  /** In clock ticks since the machine started. */
  readonly startTicks: string;
}

/** What Linux tells of a process, see proc_pid_stat(5); null elsewhere, and for a process that is not there. */
const statusOf = (pid: number): ProcessStatus | null => {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    // The name in brackets may hold anything; behind it come the third field, the state, and the others.
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
    const [state, startTicks] = [fields[0], fields[22 - 3]];
    return state === undefined || startTicks === undefined ? null : { state, startTicks };
  } catch {
    return null;
  }
};

/** When a process began, to tell it from a later one of the same number; `0` where the platform does not say. */
export const processStart = (pid: number): string => statusOf(pid)?.startTicks ?? '0';

/** Whether a process that began then still runs. */
export const isRunning = (pid: number, start: string): boolean => {
  try {
    process.kill(pid, 0);
  } catch (error) {
    // It runs, but as somebody else: EPERM.
    if ((error as NodeJS.ErrnoException).code === 'ESRCH') return false;
  }
  const status = statusOf(pid);
  if (status === null) return true;
  // A zombie or a dead process ends no more work; another start is another process.
  return !['Z', 'X'].includes(status.state) && (start === '0' || status.startTicks === start);
};
