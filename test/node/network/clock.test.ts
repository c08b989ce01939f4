import { getEventListeners } from 'node:events';
import { describe, expect, it } from 'vitest';
import { systemClock } from '../../../src/node/network/clock.js';

const anHourMs = 3_600_000;

describe("this computer's clock", () => {
  it('never goes back, and goes on while it waits', async () => {
    const before = systemClock.nowMs();
    await systemClock.wait(5);
    expect(systemClock.nowMs()).toBeGreaterThan(before);
  });

  it('waits the shorter time less', async () => {
    const order: number[] = [];
    await Promise.all([80, 20].map((ms) => systemClock.wait(ms).then(() => order.push(ms))));
    expect(order).toEqual([20, 80]);
  });

  it('waits no longer when the signal is given, before or meanwhile', async () => {
    await systemClock.wait(anHourMs, AbortSignal.abort());
    const controller = new AbortController();
    const waiting = systemClock.wait(anHourMs, controller.signal);
    controller.abort();
    await waiting;
  });

  it('leaves no listeners behind', async () => {
    const { signal } = new AbortController();
    await Promise.all(Array.from({ length: 8 }, () => systemClock.wait(1, signal)));
    expect(getEventListeners(signal, 'abort')).toEqual([]);
  });

  it('tells the time of day in UTC as ISO 8601 writes it', () => {
    const told = systemClock.timeOfDay();
    expect(told).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
    expect(Math.abs(Date.parse(told) - Date.now())).toBeLessThan(60_000);
  });
});
