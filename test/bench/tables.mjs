const columns = (rows) => {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows.map((row) =>
    row
      .map((cell, column) => (column === 0 ? cell.padEnd(widths[column]) : cell.padStart(widths[column])))
      .join('  ')
      .trimEnd(),
  );
};

const ms = (value) => value.toFixed(1);
const millions = (value) => (value / 1e6).toFixed(1);
const times = (value) => `${value.toFixed(2)} x`;

const responseRows = ({ name, apartDb, pointsPerSecond: speed }) => [
  [
    `${name}, magnitudeSquared`,
    millions(speed.magnitudeSquared),
    millions(speed.getFrequencyResponse),
    times(speed.magnitudeSquared / speed.getFrequencyResponse),
    apartDb.toExponential(0),
  ],
  [
    `${name}, magnitudeDb`,
    millions(speed.magnitudeDb),
    millions(speed.getFrequencyResponse),
    times(speed.magnitudeDb / speed.getFrequencyResponse),
    apartDb.toExponential(0),
  ],
];

const responseTable = (response, rounds) => [
  `Response, in millions of points per second; ${response[0].points} points a call, ${response[0].calls} calls a round, ${rounds} rounds`,
  ...columns([['', 'ours', 'theirs', 'ours/theirs', 'dB apart'], ...response.flatMap(responseRows)]),
  'Ours: |H|^2, or 20 log10 |H|, of the whole chain in double precision, phase not computed.',
  "Theirs: node-web-audio-api's getFrequencyResponse, magnitude and phase in single precision, a filter",
  'at a time; the product over the filters is made here and counted.',
];

const recipeTable = (recipe, rounds) => [
  `Recipe of 24 mixes (${recipe[0].rig} on ${recipe[0].target}, text), in milliseconds; ${rounds} rounds`,
  ...columns([
    ['', 'as a process', 'warm'],
    ...recipe.map(({ fit, medians }) => [`fit ${fit}`, ms(medians.process), ms(medians.warm)]),
  ]),
  'As a process: bandwright recipe, from start to exit. Warm: the same from the bytes of both files to the',
  'text, inside this process, after other rounds.',
];

const startUpTable = (startUp, rounds) => [
  `Start-up, in milliseconds from start to exit; ${rounds} rounds, in turn`,
  ...columns([
    ['', 'median', 'ratio', 'aim'],
    ...startUp.map(({ name, median, ratio, aim }) => [
      name,
      ms(median),
      times(ratio),
      aim === null ? '' : `at most ${aim}`,
    ]),
  ]),
  'Without NODE_ variables: what NODE_EXTRA_CA_CERTS adds to every start would flatter the ratios.',
];

const compareRow = (name, { settings, milliseconds, exhaustiveMilliseconds, ratio, apartDb }) => [
  name,
  settings.toExponential(1),
  ms(milliseconds),
  ms(exhaustiveMilliseconds),
  `${Math.round(ratio)} x`,
  apartDb === null ? 'sampled' : apartDb.toExponential(0),
];

const protectTable = ({ reduced, whole, growth, steps, ladder }, rounds) => [
  `Protective search on log-179, one cookbook realisation, in milliseconds; ${rounds} rounds`,
  ...columns([
    ['', 'settings', 'search', 'exhaustive', 'ratio', 'dB apart'],
    compareRow('12 Qs, gain in 5 dB', reduced),
    compareRow('whole, gain free', whole),
  ]),
  `Exhaustive: every bell beside every high cut, responses of single filters worked out once. Of the whole one bell`,
  `in ${whole.oneIn} was looked at and the time scaled by ${whole.oneIn}; the smaller one was run in full, for the same answer.`,
  '',
  'How it grows, in milliseconds: cuts round the pilot beside the high cut, by ways of building',
  ...columns([
    ['', 'ways', 'search', 'unproved by, dB'],
    ...growth.map(({ ways, cuts, milliseconds, missedAtMostDb }) => [
      `${cuts} cut${cuts === 1 ? '' : 's'}`,
      String(ways),
      ms(milliseconds),
      missedAtMostDb.toFixed(1),
    ]),
  ]),
  'and by steps of the frequency knob, one cut, six ways',
  ...columns([['', 'search'], ...steps.map(({ count, milliseconds }) => [String(count), ms(milliseconds)])]),
  'The default, all its stages, beside the one search of a stated limit of 1 dB; as shipped',
  ...columns([
    ['', 'default', 'stated', 'ratio'],
    ...ladder.map(({ id, ladder: all, single }) => [id, ms(all), ms(single), times(all / single)]),
  ]),
];

const thousands = (value) => (value / 1e3).toFixed(0);

const codecTable = (codec, rounds) => [
  `OSC messages to bytes and back, in thousands per second; ${codec[0].calls} messages a round, ${rounds} rounds`,
  ...columns([
    ['', 'ours', 'osc-min', 'node-osc', 'ours/osc-min', 'ours/node-osc'],
    ...codec.map(({ direction, perSecond: speed }) => [
      direction,
      ...['ours', 'osc-min', 'node-osc'].map((name) => thousands(speed[name])),
      ...['osc-min', 'node-osc'].map((name) => times(speed.ours / speed[name])),
    ]),
  ]),
  'Ours packs and unpacks with osc-js, and checks addresses, ranges, sizes and padding itself, both ways.',
];

/** What each further mix costs, from one row to the next. */
const perMix = (push, index) => {
  const [before, now] = [push[index - 1], push[index]];
  return before ? ms((now.median - before.median) / (now.mixes - before.mixes)) : '';
};

const pushTable = (push, rounds) => [
  `Push with readback over loopback, as a process, without pacing, in milliseconds; ${rounds} rounds`,
  ...columns([
    ['mixes', 'median', 'each further mix'],
    ...push.map(({ mixes, median }, index) => [String(mixes), ms(median), perMix(push, index)]),
  ]),
  'A mono mix of three filters each, on log-179; the desk flat before each push. 300 ms of each are the quiet',
  'before the last readback. Aim: linear, so that each further mix costs the same.',
];

const compareTable = ({ rig, threads, medians, ratio }, rounds) => [
  `Comparison of every shipped target (${rig}), as a process, in milliseconds; ${rounds} rounds`,
  ...columns([
    ['', 'one thread', `on ${threads}`, 'one/all'],
    ['24 mixes', ms(medians.one), ms(medians.all), times(ratio)],
  ]),
  'One thread works while the first waits. Most of it is one target, its mixes in four parts.',
];

const learningTable = (learning, rounds) => [
  `Learning a grid from readings, in milliseconds, by how many readings; ${rounds} rounds`,
  ...columns([
    ['', ...learning[0].counts.map(String), '40/10'],
    ...learning.map(({ name, counts, medians, growth }) => [
      name,
      ...counts.map((count) => ms(medians[count])),
      times(growth),
    ]),
  ]),
  'Both stops, a click from each, and the rest spread over the travel, none of them counted. Aim: 100 ms for ten.',
];

/** All that was measured, for people. */
const sheetNames = { shared: 'as the fixture has them', alone: 'no two alike' };

const sheetRow = ({ name, mixes, medians, bytes }) => [
  sheetNames[name],
  ms(medians.sheet),
  ms(medians.json),
  times(medians.sheet / medians.json),
  (bytes.sheet / 1000).toFixed(0),
  (bytes.sheet / mixes / 1000).toFixed(1),
  times(bytes.sheet / bytes.json),
];

const sheetTable = (sheet, rounds) => [
  `Sheet of 24 mixes beside the JSON of the same recipe (${sheet[0].target}, fit nearest), warm; ${rounds} rounds`,
  ...columns([
    ['', 'sheet ms', 'JSON ms', 'ratio', 'sheet kB', 'kB a mix', 'bytes to JSON'],
    ...sheet.map(sheetRow),
  ]),
  'A setting is drawn once, however many mixes share it; 300 kB is the most that is wanted.',
];

export const tables = ({
  machine,
  rounds,
  response,
  recipe,
  startUp,
  protect,
  codec,
  push,
  compare,
  learning,
  sheet,
}) =>
  [
    [
      `Medians of interleaved rounds on Node.js ${machine.node}, ${machine.processors} x ${machine.processor},`,
      `load ${machine.loadBefore.toFixed(1)} before and ${machine.loadAfter.toFixed(1)} after. Ratios compare; milliseconds are this machine's only.`,
    ],
    responseTable(response, rounds.response),
    recipeTable(recipe, rounds.recipe),
    startUpTable(startUp, rounds.startUp),
    protectTable(protect, rounds.protect),
    codecTable(codec, rounds.codec),
    pushTable(push, rounds.push),
    compareTable(compare, rounds.compare),
    learningTable(learning, rounds.learning),
    sheetTable(sheet, rounds.sheet),
  ]
    .map((lines) => lines.join('\n'))
    .join('\n\n');
