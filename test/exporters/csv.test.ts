import { createRequire } from 'node:module';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csv, csvColumns } from '../../src/exporters/csv.js';
import { textOf, withFirstMix } from './export.js';
import { recipe } from './fixture.js';

/** What is used of papaparse 5.7.1, which brings no types. */
interface Reader {
  parse<Record>(
    text: string,
    options: { header?: boolean; newline: string; skipEmptyLines: boolean },
  ): { readonly data: readonly Record[]; readonly errors: readonly unknown[] };
}

const Papa: Reader = createRequire(import.meta.url)('papaparse');

type Row = Readonly<Record<string, string>>;

/** Reads the records with papaparse 5.7.1, an independent reader of RFC 4180. */
const rowsOf = (content: string): readonly Row[] => {
  const read = Papa.parse<Row>(content, { header: true, newline: '\r\n', skipEmptyLines: true });
  if (read.errors.length > 0) throw new Error(JSON.stringify(read.errors));
  return read.data;
};

/** As the exporter says: one leading apostrophe is dropped. */
const undone = (cell: string | undefined): string | undefined => cell?.replace(/^'/, '');

const content = await textOf(csv);
const rows = rowsOf(content);

/** The columns that hold text from outside. */
const textColumns = ['rig_title', 'mix', 'system', 'reason', 'slot', 'role', /_shown$/];

describe('the records', () => {
  it('end in CRLF, the last one too, and nothing else ends a line', () => {
    expect(content).toMatch(/\r\n$/);
    expect(content.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });

  it('all have the columns that are told of', () => {
    const records = Papa.parse<string[]>(content, { newline: '\r\n', skipEmptyLines: true }).data;
    expect(records[0]).toEqual(csvColumns.map(({ name }) => name));
    expect(new Set(records.map((record) => record.length))).toEqual(new Set([csvColumns.length]));
  });

  it('are one a placed, and one for each mix left alone', () => {
    expect(rows.map(({ mix, slot }) => [undone(mix), slot])).toEqual([
      ['Singer', 'cut'],
      ['Singer', '3'],
      ['Singer', '4'],
      ['Drums, "sub"', 'cut'],
      ['Drums, "sub"', '4'],
      ['=1+2', ''],
      ['鼓手 Zoë 👩‍🎤', ''],
      ['Guitar', 'cut'],
      ['Guitar', '3'],
      ['Guitar', '4'],
      ['-Talkback', '2'],
      ['-Talkback', '3'],
    ]);
  });

  it('hold what the recipe holds', () => {
    expect(rows[1]).toMatchObject({
      rig_title: 'Harbour hall, late show',
      target_id: 'four-bells',
      output_left: '3',
      output_right: '4',
      times_to_dial: '2',
      system: 'packs-a',
      link: 'fm-stereo',
      treatment: 'protect',
      role: 'pilot-cut',
      type: 'peaking',
      asked_frequency_hz: '19000',
      asked_q: '10',
      asked_gain_db: '-18',
      set_frequency_hz: '19320',
      frequency_shown: '19.32 kHz',
      frequency_step: '175',
      frequency_step_count: '177',
      frequency_clicks_from_bottom: '175',
      frequency_clicks_from_top: '1',
      set_q: '12',
      set_gain_db: '-15',
      set_bandwidth_octaves: '',
      error_frequency_hz: '320',
      error_frequency_cents: '28.9',
      error_q_ratio: '1.2',
      error_gain_db: '3',
      pilot_hz: '19000',
      pilot_attenuation_db: '21.44',
      keep_loss_db: '0.9',
      rise_db: '0.02',
      guard_band_db: '9.7',
      pilot_to_programme_least_db: '17.43',
      pilot_to_programme_most_db: '32.42',
      verdict: 'met',
    });
    expect(rows[5]).toMatchObject({
      times_to_dial: '0',
      treatment: 'leave-alone',
      pilot_hz: '',
      verdict: '',
    });
    expect(rows[4]).toMatchObject({ times_to_dial: '1', type: 'highshelf', asked_type: 'lowpass' });
  });

  it('name units in the columns of numbers, and numbers are bare', () => {
    const numbers = csvColumns.filter(({ name }) =>
      /_(hz|db|octaves|cents|per_octave|ratio|step|count)$/.test(name),
    );
    expect(numbers.length).toBeGreaterThan(25);
    for (const row of rows) {
      for (const { name } of numbers) expect(row[name]).toMatch(/^(-?\d+(\.\d+)?)?$/);
    }
    expect(content).toContain(',-18,');
    expect(content).not.toMatch(/"-?\d+(\.\d+)?"/);
  });

  it('say what each column means', () => {
    for (const { name, meaning } of csvColumns) {
      expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
      expect(meaning).not.toBe('');
    }
  });
});

describe('names from outside', () => {
  // OWASP, "CSV Injection": = + - @ begin a formula.
  it.each([
    '=1+2',
    '+1+2',
    '-1+2',
    '@SUM(A1)',
    '=1+2";=1+2',
    "'already",
    "'=1+2",
    'a, "b"; c',
    ' padded ',
    'Zoë 鼓 👩‍🎤',
    '"',
    '""',
    "''",
  ])('%s comes back, and is no formula on the way', async (name) => {
    const [row] = rowsOf(await textOf(csv, withFirstMix({ name })));
    expect(row?.mix).not.toMatch(/^[=+\-@]/);
    expect(undone(row?.mix)).toBe(name);
  });

  it('the OWASP example is quoted as OWASP quotes it', async () => {
    expect(await textOf(csv, withFirstMix({ name: '=1+2";=1+2' }))).toContain(`,"'=1+2"";=1+2",`);
  });

  it('every text comes back', async () => {
    const names = fc
      .string({ unit: 'grapheme', maxLength: 40 })
      .filter((name) => !/\p{Cc}/u.test(name))
      .map((name) => `n${name}`);
    await fc.assert(
      fc.asyncProperty(names, fc.constantFrom('', '=', '-', "'", '"', ' '), async (name, first) => {
        const [row] = rowsOf(await textOf(csv, withFirstMix({ name: first + name, reason: name })));
        expect(undone(row?.mix)).toBe(first + name);
        expect(row?.reason).toBe(name);
      }),
    );
  });

  it('a number in a name is a number still', async () => {
    const [row] = rowsOf(await textOf(csv, withFirstMix({ name: '-5' })));
    expect(row?.mix).toBe('-5');
  });

  it('no cell of text begins a formula', () => {
    const isText = (name: string) =>
      textColumns.some((column) => (typeof column === 'string' ? column === name : column.test(name)));
    for (const row of rows) {
      for (const [name, cell] of Object.entries(row)) {
        if (isText(name) && !/^-?\d+(\.\d+)?$/.test(cell)) expect(cell).not.toMatch(/^[=+\-@\t\r\n]/);
      }
    }
    expect(recipe.mixes.some(({ name }) => name.startsWith('='))).toBe(true);
  });
});
