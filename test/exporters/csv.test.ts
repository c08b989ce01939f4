import { createRequire } from 'node:module';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csv, csvColumns } from '../../src/exporters/csv.js';
import { csvText, numberText } from '../../src/exporters/csv-records.js';
import type { PlacedFilter, Recipe } from '../../src/model/recipe.js';
import { db, hz, q } from '../../src/units/quantity.js';
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
const textColumns = [
  'rig_title',
  'mix',
  'system',
  'reason',
  'not_set_because',
  'slot',
  'role',
  /_shown(_db)?$/,
];

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

  it('are one a filter, and one for each mix left alone', () => {
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
      filter_state: 'set',
      not_set_because: '',
      gain_shown_db: '-15.0',
      music_lost_db: '0.9',
      rise_db: '0.02',
      guard_band_db: '9.7',
      pilot_to_programme_least_db: '17.43',
      pilot_to_programme_most_db: '32.42',
      verdict: 'met',
    });
    expect(rows[5]).toMatchObject({
      times_to_dial: '0',
      treatment: 'leave-alone',
      filter_state: '',
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
    const signed = /^([+-]?\d+(\.\d+)?)?$/;
    for (const row of rows) {
      for (const { name } of numbers) expect(row[name]).toMatch(signed);
    }
    expect(content).toContain(',-18,');
    expect(content).not.toMatch(/"-?\d+(\.\d+)?"/);
    expect(content).not.toMatch(/'[+-]?\d/);
  });

  it('say what each column means', () => {
    for (const { name, meaning } of csvColumns) {
      expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
      expect(meaning).not.toBe('');
    }
  });
});

describe('names from outside', () => {
  // OWASP, "CSV Injection": = + - @, a tab, a carriage return and the full-width forms of the four begin a formula.
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
    '＝1+2',
    '＋1+2',
    '－1+2',
    '＠SUM(A1)',
    ' =1+2',
    '\u00a0=1+2',
    '\u3000＝1+2',
    '-15.0 dB',
    '+1-2',
    '-1e5',
  ])('%s comes back, and is no formula on the way', async (name) => {
    const [row] = rowsOf(await textOf(csv, withFirstMix({ name })));
    expect(row?.mix).not.toMatch(/^\s*[=+\-@＝＋－＠\t\r]/);
    expect(undone(row?.mix)).toBe(name);
  });

  it.each(['\t=1+2', '\r=1+2', '\n=1+2', '\u0000=1+2', '\u0085=1+2'])(
    'a control character does not hide a formula: %j',
    async (name) => {
      const [row] = rowsOf(await textOf(csv, withFirstMix({ name })));
      expect(row?.mix).toMatch(/^\\u\{[0-9a-f]+\}=1\+2$/);
    },
  );

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

  it.each(['-5', '+5', '-0.25', '+46000'])('a number in a name is a number still: %s', async (name) => {
    const [row] = rowsOf(await textOf(csv, withFirstMix({ name })));
    expect(row?.mix).toBe(name);
  });

  it('no cell of text begins a formula', () => {
    const isText = (name: string) =>
      textColumns.some((column) => (typeof column === 'string' ? column === name : column.test(name)));
    for (const row of rows) {
      for (const [name, cell] of Object.entries(row)) {
        if (isText(name) && !/^[+-]?\d+(\.\d+)?$/.test(cell)) expect(cell).not.toMatch(/^\s*[=+\-@＝＋－＠]/);
      }
    }
    expect(recipe.mixes.some(({ name }) => name.startsWith('='))).toBe(true);
  });
});

describe('numbers', () => {
  it.each([
    [21.440000000000001, '21.44'],
    [1 / 3, '0.333333'],
    [-2 / 3, '-0.666667'],
    [-0.0030000000000001137, '-0.003'],
    [12345.678912345, '12345.7'],
    [1e-7 / 3, '0.0000000333333'],
    [-0, '0'],
  ])('that were worked out have six significant digits: %f', (value, shown) => {
    expect(numberText(value)).toBe(shown);
  });

  // The bound is a convention of ours: half the sixth decimal place.
  it('of decibels are 0 where they are within 0.0000005 of it, and no other numbers are', () => {
    const values = [1.2345678901e-15, -1.2345678901e-15, 4.9999999999e-7, 5.0000000011e-7, -0.001];
    const header = ['rise_db', 'error_frequency_hz'];
    const shown = csvText([header, ...values.map((value) => [value, value])]).split('\r\n');
    expect(shown.slice(1, -1).map((line) => line.split(',')[0])).toEqual([
      '0',
      '0',
      '0',
      '0.0000005',
      '-0.001',
    ]);
    expect(shown[1]).toBe('0,0.00000000000000123457');
  });

  it.each([
    [1299999999999, '1299999999999'],
    [19000.25, '19000.25'],
    [100.00005, '100.00005'],
    [0.812, '0.812'],
  ])('that are whole, or stated in nine digits or fewer, stand as they are: %f', (value, shown) => {
    expect(numberText(value)).toBe(shown);
  });

  /** The recipe with a bell whose frequency knob stands at a value, shown so. */
  const withFrequency = (frequencyHz: number, display: string): Recipe => {
    const filters = recipe.mixes[0]?.filters.map(
      (placed): PlacedFilter => ({
        ...placed,
        set: { ...placed.set, frequencyHz: hz(frequencyHz) },
        steps: { ...placed.steps, frequency: { ...placed.steps.frequency, display } as never },
      }),
    );
    return withFirstMix({ filters: filters ?? [] });
  };

  // Six digits of 19374.123456789 are 19374.1, eight of them 19374.123.
  it.each([
    ['19.37 kHz', '19374.1'],
    ['19374.123 Hz', '19374.123'],
    ['up a bit', '19374.1'],
    [`${'9'.repeat(200)} Hz`, '19374.123456789'],
  ])('to be dialled have as many digits as %s, and no fewer than six', async (display, shown) => {
    const [row] = rowsOf(await textOf(csv, withFrequency(19374.123456789, display)));
    expect(row).toMatchObject({ set_frequency_hz: shown, frequency_shown: display });
  });
});

describe('a filter that is not set', () => {
  const missing = [
    { role: 'low-cut', type: 'highpass', why: 'no-place' },
    { role: 'pilot-cut', type: 'peaking', why: 'left-out' },
    { role: 'stage-hum', type: 'notch', why: 'no-place' },
  ] as const;
  const message = (text: string) => ({ code: 'no-place', path: 'mixes[0]', message: text });
  const problems = [
    { ...message('of another mix'), path: 'mixes[10]' },
    message('Asked: low cut at 40 Hz. No slot is free.'),
    { ...message('of another kind'), code: 'beyond-range' },
    message('Asked: notch at 100 Hz. No slot is free.'),
  ];

  it('has a row after those that are set, with what was asked and the reason', async () => {
    const of = { ...withFirstMix({ missing }), problems };
    const told = rowsOf(await textOf(csv, of));
    expect(told).toHaveLength(6);
    const cells = ({ filter_state, role, type, asked_type, not_set_because }: Row) => [
      filter_state,
      role,
      type,
      asked_type,
      not_set_because,
    ];
    expect(told.slice(3).map(cells)).toEqual([
      ['no-place', 'low-cut', '', 'highpass', 'Asked: low cut at 40 Hz. No slot is free.'],
      ['left-out', 'pilot-cut', '', 'peaking', ''],
      ['no-place', 'stage-hum', '', 'notch', 'Asked: notch at 100 Hz. No slot is free.'],
    ]);
    expect(told[3]).toMatchObject({ mix: 'Singer', output_left: '3', slot: '', set_frequency_hz: '' });
  });

  it('is all the rows of a mix that has none set', async () => {
    const told = rowsOf(await textOf(csv, { ...withFirstMix({ filters: [], missing }), problems }));
    expect(told.map(({ filter_state }) => filter_state)).toEqual(['no-place', 'left-out', 'no-place']);
  });
});

it('what was asked stands beside what is set: frequency, width in any form, slope, gain', async () => {
  const asked = { role: 'warmth', type: 'lowshelf', frequencyHz: hz(120), gainDb: db(-2.5) } as const;
  const [first] = recipe.mixes[0]?.filters ?? [];
  const of = (width: object) =>
    withFirstMix({ filters: [{ ...(first as PlacedFilter), asked: { ...asked, ...width } }] });
  const [shelf] = rowsOf(await textOf(csv, of({ shelfSlope: 0.75 })));
  expect(shelf).toMatchObject({
    asked_type: 'lowshelf',
    asked_frequency_hz: '120',
    asked_shelf_slope: '0.75',
    asked_gain_db: '-2.5',
    asked_q: '',
  });
  const [bell] = rowsOf(await textOf(csv, of({ q: q(Math.SQRT1_2) })));
  expect(bell).toMatchObject({ asked_q: '0.707107', asked_shelf_slope: '' });
});
