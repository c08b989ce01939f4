import { expect, it } from 'vitest';
import { onInterrupt } from '../../src/node/interrupts.js';

/** As if the system had sent a signal. */
const interrupt = (signal: NodeJS.Signals = 'SIGINT') => process.emit(signal, signal);

it('interrupts go to whoever took over last, and back when handed back', () => {
  const before = process.listenerCount('SIGINT');
  const calls: string[] = [];
  const releaseFirst = onInterrupt(() => calls.push('first'));
  interrupt();
  const releaseSecond = onInterrupt(() => calls.push('second'));
  interrupt('SIGTERM');
  interrupt('SIGHUP');
  releaseSecond();
  releaseSecond();
  interrupt();
  expect(calls).toEqual(['first', 'second', 'second', 'first']);
  releaseFirst();
  expect(process.listenerCount('SIGINT')).toBe(before);
});

it('one that is handed back out of turn leaves the other in charge', () => {
  const calls: string[] = [];
  const releaseFirst = onInterrupt(() => calls.push('first'));
  const releaseSecond = onInterrupt(() => calls.push('second'));
  releaseFirst();
  interrupt();
  releaseSecond();
  expect(calls).toEqual(['second']);
});

it('a handler may hand back while it is called, and the next signal goes to the one before', () => {
  const calls: string[] = [];
  const releaseFirst = onInterrupt(() => calls.push('first'));
  const releaseSecond = onInterrupt(() => {
    calls.push('second');
    releaseSecond();
  });
  interrupt();
  interrupt();
  releaseFirst();
  expect(calls).toEqual(['second', 'first']);
});
