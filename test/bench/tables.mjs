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

/** All that was measured, for people. */
export const tables = ({ machine, rounds, response, recipe, startUp }) =>
  [
    [
      `Medians of interleaved rounds on Node.js ${machine.node}, ${machine.processors} x ${machine.processor},`,
      `load ${machine.loadBefore.toFixed(1)} before and ${machine.loadAfter.toFixed(1)} after. Ratios compare; milliseconds are this machine's only.`,
    ],
    responseTable(response, rounds.response),
    recipeTable(recipe, rounds.recipe),
    startUpTable(startUp, rounds.startUp),
  ]
    .map((lines) => lines.join('\n'))
    .join('\n\n');
