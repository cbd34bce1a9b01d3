import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

const PREFIX = 'TONESTEP:PLAN:';
const ID = /^[a-z0-9-]{1,40}$/;

/**
 * Which text does the sheet's square code hold? Capitals, digits, colon and hyphen, which a QR code packs closest.
 *
 * @param id the plan's name in the record: up to 40 small letters, digits and hyphens.
 * @throws AnalysisError `plan-invalid` for any other.
 */
export const planCodeText = (id: string): string => {
  if (!ID.test(id))
    throw new AnalysisError(
      'plan-invalid',
      `A plan's id has up to 40 small letters, digits and hyphens; received "${id.slice(0, 60)}".`,
      { phrase: phrase('plan-id-unfit', { id: id.slice(0, 60), most: 40 }) },
    );
  return PREFIX + id.toUpperCase();
};

/** Which plan does this text name? Null where it is no code of the sheet. */
export const readPlanCode = (text: string): string | null => {
  const capitals = text.trim().toUpperCase();
  if (!capitals.startsWith(PREFIX)) return null;
  const id = capitals.slice(PREFIX.length).toLowerCase();
  return ID.test(id) ? id : null;
};
