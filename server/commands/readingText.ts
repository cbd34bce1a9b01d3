import type { Verdict } from '../../analysis/advice/advice.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import type { Reading } from '../../analysis/reading.ts';

const BAR_WIDTH = 24;

const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  'washed-out': 'washed out',
  building: 'building',
  'full-depth': 'full depth',
  overexposed: 'overexposed',
};

/** Longer for darker: how much of the way from white to black this step has gone. */
const bar = (L: number): string => {
  const filled = Math.round((BAR_WIDTH * (100 - Math.min(100, Math.max(0, L)))) / 100);
  return '█'.repeat(filled).padEnd(BAR_WIDTH, '·');
};

const wrapped = (text: string, indent = ''): string => {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line && line.length + word.length + 1 > 96 - indent.length) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  return [...lines, line].map((l) => indent + l).join('\n');
};

/** A reading for a person at a terminal: a bar and a verdict per step, then the answer. */
export const readingText = (reading: Reading): string => {
  const { strip, steps, curve, advice, illumination, warnings } = reading;
  const title = [strip.dye, strip.cloth, strip.light].filter(Boolean).join(' · ') || 'Test strip';
  const rows = steps.map((s) => {
    const time = s.seconds === 0 ? 'base' : formatClock(s.seconds);
    return `${time.padStart(8)}  ${bar(s.L)}  L* ${s.L.toFixed(1).padStart(5)} ± ${s.uL.toFixed(1)}   ${VERDICT_WORDS[s.verdict]}`;
  });
  const lines = [title, '', ...rows, ''];
  if (
    advice.seconds !== null &&
    advice.roundedSeconds !== null &&
    advice.low !== null &&
    advice.high !== null
  )
    lines.push(
      `Expose ${formatClock(advice.roundedSeconds)}   (90 % interval ${formatClock(advice.low)} to ${formatClock(advice.high)})`,
    );
  lines.push(wrapped(advice.sentence));
  if (advice.nextStrip)
    lines.push(
      wrapped(
        `Next strip: ${advice.nextStrip.seconds.map((s) => (s === 0 ? 'base' : formatClock(s))).join(', ')}. ${advice.nextStrip.reason}`,
      ),
    );
  lines.push('');
  if (curve.kind === 'fitted') lines.push(wrapped(`Curve: ${curve.curve.reason}`));
  lines.push(wrapped(`Light: ${illumination.reason}.`));
  for (const w of warnings) lines.push(wrapped(`Note: ${w.message}`));
  lines.push('', 'A starting point measured from one photo: test on a scrap before an expensive piece.');
  return `${lines.join('\n')}\n`;
};
