import { AnalysisError } from '../../analysis/errors.ts';
import { Refusal } from '../refusal.ts';
import { CommandError } from './command.ts';

export interface RefusedInput {
  readonly code: string;
  readonly message: string;
}

/** The code and the sentence of an error that is about the input; null for a fault of our own. */
export const refusedInput = (error: unknown): RefusedInput | null =>
  error instanceof AnalysisError || error instanceof CommandError || error instanceof Refusal
    ? { code: error.code, message: error.message }
    : null;
