import { clock } from '../../analysis/advice/settable.ts';
import { parseTarget } from '../../analysis/advice/target.ts';
import { SKIES } from '../../analysis/plan/sky.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import type { Today } from '../contracts/recordUse.ts';
import { whatTimeToday } from '../record/today.ts';
import { namedBatch, namedUse } from './bookWords.ts';
import { type Command, CommandError } from './command.ts';
import { choiceOf, numberOf, parseWords } from './options.ts';
import { withBook } from './withBook.ts';
import { wrapped } from './wrapped.ts';

const todayText = (answer: Today, title: string): string => {
  const lines = [wrapped(title), ''];
  if (answer.kind === 'time') {
    const { roundedSeconds, low, high, highOpen } = answer;
    const interval = highOpen ? `${clock(low)} or longer` : `${clock(low)} to ${clock(high)}`;
    lines.push(`Expose ${formatClock(roundedSeconds)}   (90 % interval ${interval})`);
  }
  lines.push(wrapped(answer.sentence));
  if (answer.kind !== 'no-calibration') {
    lines.push('', wrapped(answer.moved.sentence));
    for (const { weight, message } of answer.doubts)
      lines.push(wrapped(message, weight === 'distrust' ? '! ' : '- ', '  '));
  }
  if (answer.kind === 'no-time' && answer.nextStrip)
    lines.push(
      wrapped(
        `Next strip: ${answer.nextStrip.seconds.map((s) => (s === 0 ? 'base' : formatClock(s))).join(', ')}.`,
      ),
    );
  lines.push('', wrapped('A starting point: test on a scrap before an expensive piece.'));
  return `${lines.join('\n')}\n`;
};

/** `tonestep today`: what time today? */
export const today: Command = {
  name: 'today',
  usage: ['[--dye NAME] [--cloth NAME] [--light NAME] [--target TARGET] [--lamp-hours N] [--batch NAME]'],
  summary: 'how long today? From the latest calibration in the book, moved by control scraps made since',
  options: [
    ['--dye NAME', 'may be left out where the book has only one; likewise --cloth and --light'],
    ['--cloth NAME', 'the cloth'],
    ['--light NAME', 'the light'],
    ['--target TARGET', '"L=45", "depth=80%", "full" (when left out), "swatch=L,a,b"'],
    ['--lamp-hours N', "what the lamps' hour meter shows today"],
    ['--batch NAME', 'the batch of sensitiser in use today'],
    ['--sky SKY', 'for the sun: clear, scattered, broken or overcast'],
    ['--timer-step SECONDS', 'smallest change of your timer'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      dye: { type: 'string' },
      cloth: { type: 'string' },
      light: { type: 'string' },
      target: { type: 'string' },
      'lamp-hours': { type: 'string' },
      batch: { type: 'string' },
      sky: { type: 'string' },
      'timer-step': { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length > 0) throw new CommandError('usage', `"${positionals[0]}" is not understood here`);
    const target = values.target === undefined ? undefined : parseTarget(values.target);
    const lampHours = numberOf('lamp-hours', values['lamp-hours'], 0) ?? null;
    const sky = choiceOf('sky', values.sky, SKIES) ?? null;
    const timerStepSeconds = numberOf('timer-step', values['timer-step'], 0.1);
    return withBook(async (desk) => {
      const { dye, cloth, light } = await namedUse(desk, values);
      const batch = await namedBatch(desk, values.batch);
      const answer = await whatTimeToday(desk, {
        dyeId: dye.id,
        clothId: cloth.id,
        lightId: light.id,
        batchId: batch?.id ?? null,
        cardId: null,
        lampHours,
        sky,
        ...(target && { target }),
        ...(timerStepSeconds !== undefined && { timerStepSeconds }),
      });
      return { text: todayText(answer, [dye.name, cloth.name, light.name].join(' · ')), json: answer };
    });
  },
};
