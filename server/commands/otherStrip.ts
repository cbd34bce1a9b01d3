import type { Warning } from '../../analysis/errors.ts';
import type { StoredReading } from './storedReading.ts';

const same = (one: string, other: string) => one.trim().toLowerCase() === other.trim().toLowerCase();

/** What keeps a control from being one of the recorded strip: another dye or cloth, or another version of the method. */
export const otherStrip = (recorded: StoredReading, control: StoredReading): Warning[] => {
  const [was, is] = [recorded.reading, control.reading];
  const warnings: Warning[] = [];
  for (const what of ['dye', 'cloth'] as const)
    if (!same(was.strip[what], is.strip[what]))
      warnings.push({
        code: `other-${what}`,
        message: `${control.path} names another ${what} (${is.strip[what] || 'none'}) than ${recorded.path} (${was.strip[what] || 'none'}): a shift holds for one dye on one cloth only.`,
      });
  if (was.methodVersion !== is.methodVersion)
    warnings.push({
      code: 'other-method',
      message: `${control.path} was read by method ${is.methodVersion}, ${recorded.path} by ${was.methodVersion}: read both photos anew.`,
    });
  return warnings;
};
