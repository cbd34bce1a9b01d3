/** What a command hands back: text for people or one JSON value for programs. */
export interface CommandAnswer {
  readonly text: string;
  readonly json: unknown;
}

/** One word of the command line: `tonestep NAME …`. */
export interface Command {
  readonly name: string;
  /** How it is called, after the name. */
  readonly usage: string;
  /** What it answers, in one line. */
  readonly summary: string;
  readonly run: (words: readonly string[]) => Promise<CommandAnswer>;
}

/** The command line itself is wrong or a file can't be read: a code for programs, a sentence for people. */
export class CommandError extends Error {
  readonly code: 'usage' | 'file-unreadable';

  constructor(code: CommandError['code'], message: string) {
    super(message);
    this.name = 'CommandError';
    this.code = code;
  }
}
