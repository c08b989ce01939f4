/** How a word that carries a verdict is made to stand out; what it says never hangs on that. */
export type Emphasise = (text: string, verdict: 'met' | 'falls-short') => string;

const literal = (word: string): string => word.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');

/**
 * Lines that are laid out already with verdicts emphasised, also where one goes on in the next line: emphasis takes no
 * room. `met` and `short` are the words of each.
 */
export const emphasised = (
  lines: readonly string[],
  { met = [], short = [] }: { readonly met?: readonly string[]; readonly short?: readonly string[] },
  emphasise: Emphasise,
): readonly string[] => {
  const words = [...met, ...short].map((each) => each.split(' ').map(literal).join('\\s+'));
  if (words.length === 0 || lines.length === 0) return lines;
  const pattern = new RegExp(`(?<![\\p{L}\\p{N}])(?:${words.join('|')})(?![\\p{L}\\p{N}])`, 'gu');
  const marked = (found: string): string => {
    const verdict = met.includes(found.replace(/\s+/g, ' ')) ? 'met' : 'falls-short';
    return found
      .split(/(\n *)/)
      .map((part, index) => (index % 2 === 0 ? emphasise(part, verdict) : part))
      .join('');
  };
  return lines.join('\n').replace(pattern, marked).split('\n');
};
