import type { ControlScrap } from '../../analysis/across/transfer.ts';
import { parseSeconds } from '../../analysis/plan/time.ts';
import { CommandError } from './command.ts';
import type { StoredReading } from './storedReading.ts';

const form = /^(.+?)=\s*(\d*[.,]?\d+)\s*(?:±|\+\/-|\+-)\s*(\d*[.,]?\d+)$/;
const numberFrom = (text: string) => Number(text.replace(',', '.'));

/** Reads "90=45.2±0.6": time, L* and one standard uncertainty of L*. */
export const parseScrap = (text: string): ControlScrap => {
  const match = form.exec(text.trim());
  const wrong = () =>
    new CommandError(
      'usage',
      `--scrap "${text}" is not understood. Write time, L* and its uncertainty like "90=45.2±0.6" or "1:30=45.2+-0.6".`,
    );
  if (!match) throw wrong();
  let seconds: number;
  try {
    seconds = parseSeconds(match[1]);
  } catch {
    throw wrong();
  }
  const [L, uL] = [numberFrom(match[2]), numberFrom(match[3])];
  if (!(seconds > 0 && uL > 0 && L <= 100)) throw wrong();
  return { seconds, L, uL };
};

/** The exposed steps of a control's reading. */
export const scrapsOf = ({ path, reading }: StoredReading): ControlScrap[] => {
  const scraps = reading.steps.filter((step) => step.seconds > 0);
  if (scraps.length === 0)
    throw new CommandError('file-invalid', `${path} has no exposed step to go by, only a base.`);
  return scraps.map(({ seconds, L, uL }) => ({ seconds, L, uL }));
};
