import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { run, runLoaded } from './run.js';

const Papa: {
  parse(
    text: string,
    options: { header: true; newline: string; skipEmptyLines: true },
  ): {
    readonly data: readonly Readonly<Record<string, string>>[];
    readonly errors: readonly unknown[];
  };
} = createRequire(import.meta.url)('papaparse');

interface Point {
  readonly keepLossAtMostDb: number;
  readonly keepLossDb: number;
  readonly pilotAttenuationDb: number;
  readonly filters: readonly unknown[];
}

interface TradeoffJson {
  readonly target: string;
  readonly pilotHz: number;
  readonly windowHz: number;
  readonly keepHighHz: number;
  readonly frontier: readonly Point[];
  readonly nearest: Omit<Point, 'keepLossAtMostDb'>;
  readonly asked: {
    readonly pilotAttenuationDb: number;
    readonly reached: Omit<Point, 'keepLossAtMostDb'>;
  };
}

const tradeoff = (...more: readonly string[]) => runLoaded(['tradeoff', '--target', 'cut-section', ...more]);

const csvRows = (text: string) => {
  const { data, errors } = Papa.parse(text, { header: true, newline: '\r\n', skipEmptyLines: true });
  expect(errors).toEqual([]);
  return data;
};

/** The same for all that look at it. */
const json = await tradeoff('--json');

describe('tradeoff', () => {
  it('draws a table and a plot of what stands in its JSON', async () => {
    const plain = await tradeoff();
    expect([plain.exitCode, plain.stderr, json.exitCode, json.stderr]).toEqual([0, '', 0, '']);
    const { frontier, nearest } = JSON.parse(json.stdout.toString()) as TradeoffJson;
    const text = plain.stdout.toString();
    const rows = text.split('\n').filter((line) => /^ *(\d+\.\d\d|nearest) +\d/.test(line));
    expect(rows).toHaveLength(frontier.length + 1);
    [...frontier, { ...nearest, keepLossAtMostDb: null }].forEach((point, index) => {
      const [within, lost, pilot] = rows[index]?.trim().split(/ +/) ?? [];
      expect([within, lost, pilot]).toEqual([
        point.keepLossAtMostDb?.toFixed(2) ?? 'nearest',
        point.keepLossDb.toFixed(2),
        point.pilotAttenuationDb.toFixed(1),
      ]);
    });
    const canvas = text.split('\n').filter((line) => / \|/.test(line));
    expect(canvas.join('').match(/N/g)).toHaveLength(1);
    expect(canvas.join('').match(/o/g)?.length).toBeGreaterThan(5);
    expect(text).toMatch(/^attenuation at the pilot, dB$/m);
    expect(text).toMatch(/^ +music lost, dB$/m);
    expect(Math.max(...text.split('\n').map(({ length }) => length))).toBeLessThanOrEqual(80);
  });

  it('says the same in CSV', async () => {
    const csv = await tradeoff('--csv');
    const { frontier, nearest, asked } = JSON.parse(json.stdout.toString()) as TradeoffJson;
    const data = csvRows(csv.stdout.toString());
    const numbers = data.map((row) => [
      row.chosen_by,
      row.music_lost_at_most_db === '' ? null : Number(row.music_lost_at_most_db),
      Number(row.music_lost_db),
      Number(row.pilot_attenuation_db),
    ]);
    const sixDigits = (values: readonly number[]) => values.map((value) => Number(value.toPrecision(6)));
    const figures = ({ keepLossDb, pilotAttenuationDb }: TradeoffJson['nearest']) =>
      sixDigits([keepLossDb, pilotAttenuationDb]);
    expect(numbers).toEqual([
      ...frontier.map((each) => ['protect', ...sixDigits([each.keepLossAtMostDb]), ...figures(each)]),
      ['nearest', null, ...figures(nearest)],
      ['least-loss-as-asked', null, ...figures(asked.reached)],
    ]);
    for (const { settings } of data) expect(settings).toContain('bell at 18.88 kHz');
  });

  it('is about the pilot, the window and the music that are asked for', async () => {
    const asked = ['--pilot', '18.5k', '--window', '50 Hz', '--keep-high', '10k', '--json'];
    const single = JSON.parse((await tradeoff(...asked)).stdout.toString()) as TradeoffJson;
    expect(single).toMatchObject({ target: 'cut-section', pilotHz: 18500, windowHz: 50, keepHighHz: 10000 });
    expect(single.frontier.at(-1)?.filters).toHaveLength(3);
  });

  it('may spend further slots', async () => {
    // An example of its help, in a process of its own.
    const line = 'tradeoff --target top-18 --spare-slots 1 --csv';
    const { stdout, stderr, exitCode } = await run(line.split(' '));
    const without = await runLoaded(['tradeoff', '--target', 'top-18', '--json']);
    expect([exitCode, stderr]).toEqual([0, '']);
    const rows = csvRows(stdout.toString()).filter(({ chosen_by }) => chosen_by === 'protect');
    const { frontier } = JSON.parse(without.stdout.toString()) as TradeoffJson;
    const [single, pair] = [frontier.at(-1), rows.at(-1)];
    // A bell and a high cut: that desk's low cut is fixed at 80 Hz, too far off.
    expect(single?.filters).toHaveLength(2);
    expect(pair?.settings?.split('; ')).toHaveLength(3);
    expect(Number(pair?.pilot_attenuation_db)).toBeGreaterThan(single?.pilotAttenuationDb ?? Infinity);
  });
});
