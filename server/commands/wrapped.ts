const COLUMNS = 80;

/** Breaks a sentence into lines of a terminal's 80 columns; further lines are indented by `hanging`. */
export const wrapped = (text: string, indent = '', hanging = indent): string => {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter(Boolean)) {
    const room = COLUMNS - (lines.length === 0 ? indent : hanging).length;
    if (line && line.length + word.length + 1 > room) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  return [...lines, line].map((l, i) => (i === 0 ? indent : hanging) + l).join('\n');
};
