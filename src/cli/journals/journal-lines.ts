import { columnLines, fittingWidth, widthBeside } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type { Journal, JournalOutcome } from '../../model/journal.js';
import {
  isEmptyJournal,
  isReadJournal,
  type JournalSummary,
  type ListedJournal,
} from '../../node/journals/list-journals.js';
import { placeText } from '../../node/network/unreachable.js';
import { momentWords, pathLine } from '../words/copyable.js';

const resultWords: Readonly<Record<JournalOutcome['result'], string>> = {
  done: 'done',
  'falls-short': 'fell short',
  interrupted: 'interrupted',
  'desk-lost': 'desk lost',
};

const endedWords = (outcome: Journal['outcome']): string =>
  outcome ? resultWords[outcome.result] : 'not ended';

const deskWords = ({ host, port }: Journal['desk']): string => placeText(host, port);

const mixWords = ({ mixes }: JournalSummary): string => (mixes.length === 0 ? 'none' : mixes.join(', '));

/** Below this a table would break its cells into scraps, and each journal gets lines of its own. */
const leastTableColumns = 120;

const indent = '  ';

const unreadLines = (listed: ListedJournal, columns: number): readonly string[] =>
  isReadJournal(listed)
    ? []
    : [
        isEmptyJournal(listed) ? 'nothing had been written' : 'cannot be read',
        pathLine(listed.path),
        ...listed.problems
          .slice(0, 1)
          .flatMap(({ message }) => wrap(message, columns - indent.length))
          .map((line) => `${indent}${line}`),
      ];

const cells = (journal: JournalSummary): readonly string[] => [
  ...Object.values(momentWords(journal.startedAt)),
  journal.purpose,
  endedWords(journal.outcome),
  deskWords(journal.desk),
  journal.target,
  journal.title,
  mixWords(journal),
];

const head = ['when, here', 'in UTC', 'what', 'it ended', 'desk', 'target', 'show', 'mixes'];

const table = (journals: readonly ListedJournal[], columns: number): readonly string[] => {
  const rows = [head, ...journals.filter(isReadJournal).map(cells)];
  const fixed = [19, 19, 7, 11, 21, 14].map((most, column) =>
    fittingWidth(
      rows.map((row) => row[column] ?? ''),
      4,
      most,
    ),
  );
  const left = widthBeside(fixed, columns);
  const show = Math.min(
    fittingWidth(
      rows.map((row) => row[6] ?? ''),
      4,
      30,
    ),
    Math.floor(left / 2),
  );
  const widths = [...fixed, show, Math.max(4, widthBeside([show], left))];
  return [
    ...columnLines(head, widths),
    ...journals.flatMap((listed) =>
      isReadJournal(listed)
        ? [...columnLines(cells(listed), widths), pathLine(listed.path)]
        : unreadLines(listed, columns),
    ),
  ];
};

const block = (journal: JournalSummary, columns: number): readonly string[] => {
  const { here, utc } = momentWords(journal.startedAt);
  return [
    ...wrap(`${here}, ${journal.purpose}: ${endedWords(journal.outcome)}`, columns, indent),
    ...[
      `in UTC ${utc}`,
      `desk ${deskWords(journal.desk)}, target ${journal.target}`,
      `show ${journal.title}`,
      `mixes ${mixWords(journal)}`,
    ].flatMap((line) => wrap(line, columns - indent.length, indent).map((each) => `${indent}${each}`)),
    pathLine(journal.path),
  ];
};

const blocks = (journals: readonly ListedJournal[], columns: number): readonly string[] =>
  journals.flatMap((listed, index) => [
    ...(index > 0 ? [''] : []),
    ...(isReadJournal(listed) ? block(listed, columns) : unreadLines(listed, columns)),
  ]);

/** Journals for people, in the order given. */
export const journalLines = (journals: readonly ListedJournal[], columns: number): readonly string[] => [
  ...(columns < leastTableColumns ? blocks : table)(journals, Math.max(40, columns)),
  ...(journals.some((listed) => isReadJournal(listed) && listed.outcome === null)
    ? ['', ...wrap('What has not ended was killed half-way, or is still at work.', columns)]
    : []),
];
