/** Breaks a text at its spaces into lines no wider than `columns`; a longer word stands on a line of its own. */
export const wrap = (text: string, columns: number, hangingIndent = ''): readonly string[] => {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const candidate = line === '' ? word : `${line} ${word}`;
    if (candidate.length <= columns || line.trim() === '') {
      line = candidate;
    } else {
      lines.push(line);
      line = `${hangingIndent}${word}`;
    }
  }
  return [...lines, line];
};
