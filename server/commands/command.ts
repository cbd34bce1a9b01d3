/** What a command hands back: text for people or one JSON value for programs. */
export interface CommandAnswer {
  readonly text: string;
  readonly json: unknown;
  /** What could not be answered beside all that was: goes to stderr, and the exit status is 2. */
  readonly complaint?: string;
}

/** What help says of one word of the command line: `tonestep NAME …`. */
export interface Described {
  readonly name: string;
  /** How it is called, after the name; one form a line. */
  readonly usage: readonly string[];
  /** What it answers, in one line. */
  readonly summary: string;
  /** What each option says, in the order in which a person needs them. */
  readonly options: readonly (readonly [option: string, meaning: string])[];
}

/** One word of the command line that ends with an answer. */
export interface Command extends Described {
  readonly run: (words: readonly string[]) => Promise<CommandAnswer>;
}

export type CommandErrorCode = 'usage' | 'file-unreadable' | 'file-unwritable' | 'file-invalid';

/** The command line is wrong or a file is not what the command needs: a code for programs, a sentence for people. */
export class CommandError extends Error {
  readonly code: CommandErrorCode;

  constructor(code: CommandErrorCode, message: string) {
    super(message);
    this.name = 'CommandError';
    this.code = code;
  }
}
