import type { Print } from '../contracts/recordUse.ts';
import type { PrintRow } from '../store/schema.ts';

export const asPrint = ({ targetJson, ...rest }: PrintRow): Print => ({
  ...rest,
  target: targetJson === null ? null : JSON.parse(targetJson),
});
