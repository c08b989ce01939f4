import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Test files that take longest, the longest first: one that began last would be waited for alone. */
const longest: readonly string[] = [
  'laws/whole-show',
  'end-to-end/live/faults',
  'end-to-end/live/watch',
  'end-to-end/live/other-desk',
  'learning/recovery',
  'learning/false-reading',
  'end-to-end/compare',
  'end-to-end/streams',
  'cli/check-after-push',
  'end-to-end/recipes',
  'cli/default-on-shipped',
  'end-to-end/live/killed',
  'end-to-end/hear',
  'laws/protect-laws',
  'laws/protect.test',
  'end-to-end/help',
  'live/watch/watch-rounds',
  'end-to-end/bad-input',
  'simulator/listen',
  'end-to-end/live/push',
  'analysis/tradeoff',
  'packaging/installed',
  'end-to-end/live/lost-output',
  'browser/sheet-pages',
  'browser/sheet-numbers',
  'browser/sheet-paper',
  'end-to-end/tradeoff',
];

const rank = ({ moduleId }: TestSpecification): number => {
  const at = longest.findIndex((part) => moduleId.includes(part));
  return at < 0 ? longest.length : at;
};

/** The order test files begin in: the longest first, all others as vitest would have them. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const usual = await super.sort(files);
    return [...usual].sort((a, b) => rank(a) - rank(b));
  }
}
