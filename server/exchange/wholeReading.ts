import { firstIssue } from '../../analysis/firstIssue.ts';
import { CommandError } from '../commands/command.ts';
import { asContract, parseStoredReading } from '../commands/storedReading.ts';
import { type Reading, reading as readingShape } from '../contracts/reading.ts';

/**
 * A reading whole, from the parsed JSON of `tonestep read … --json` or of the server.
 *
 * @throws CommandError `file-invalid`, with the place of what is wrong.
 */
export const parseWholeReading = (path: string, json: unknown): Reading => {
  parseStoredReading(path, json);
  const parsed = readingShape.safeParse(asContract(json as Record<string, unknown>));
  if (parsed.success) return parsed.data;
  throw new CommandError(
    'file-invalid',
    `${path} is not a whole reading: ${firstIssue(parsed.error)}. Read the photo again: tonestep read … --json.`,
  );
};
