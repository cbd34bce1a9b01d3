import { refusedInput } from '../../server/commands/refusedInput.ts';
import { errorAnswer } from '../../server/contracts/errors.ts';

/** A path of the machine, a place in the code, or a library's own words: nothing of that belongs in a sentence. */
const NOT_FOR_PEOPLE =
  /\/(work|tmp|home|usr|root|var)\/|node_modules|\.ts\b|\.m?js:|\bat \w+ \(|vips|libheif|lcms|undefined|\[object|Error:/i;
const LONGEST_SENTENCE = 700;

/** Why a sentence is none that a printer should see; null where it is fine. */
export const faultOf = (message: string): string | null => {
  if (message.trim() === '') return 'no sentence';
  if (!/[.!?…)"”]\s*$/.test(message)) return `no end to the sentence: ${message}`;
  if (message.length > LONGEST_SENTENCE) return `a sentence of ${message.length} signs`;
  const leak = NOT_FOR_PEOPLE.exec(message);
  return leak ? `"${leak[0]}" in: ${message.slice(0, 300)}` : null;
};

/** What became of one input: a word for the count, or a fault. */
export interface Outcome {
  readonly code: string;
  readonly fault: string | null;
}

/** Runs one input to its end: an answer, a refusal with code and sentence, or a fault of ours. */
export const outcomeOf = async (run: () => unknown): Promise<Outcome> => {
  try {
    const answer = await run();
    return { code: typeof answer === 'string' ? answer : 'answered', fault: null };
  } catch (error) {
    const refused = refusedInput(error);
    if (refused) return { code: refused.code, fault: faultOf(refused.message) };
    const what = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return { code: 'FAULT', fault: what.slice(0, 1200) };
  }
};

/** The word for an HTTP answer: its status where it succeeded, its code where not. @throws Error for anything else. */
export const answeredAs = async (response: Response): Promise<string> => {
  if (response.status < 400) {
    await response.arrayBuffer();
    return String(response.status);
  }
  const { code, message } = errorAnswer.parse(await response.json()).error;
  if (response.status === 500 || code === 'internal') throw new Error(`answered with 500: ${message}`);
  const fault = faultOf(message);
  if (fault) throw new Error(fault);
  return code;
};
