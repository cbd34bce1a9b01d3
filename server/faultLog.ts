import pino, { type DestinationStream, type Logger, type LoggerOptions } from 'pino';

/**
 * What the log says of an error: what kind it is and where it came from. Drivers hang more on their errors: PostgreSQL's
 * has the row that was refused, names and all.
 */
const faultOf = (error: unknown): object => {
  if (!(error instanceof Error)) return { type: typeof error };
  const { code, cause } = error as { readonly code?: unknown; readonly cause?: unknown };
  return {
    type: error.name,
    ...(typeof code === 'string' && { code }),
    message: error.message,
    stack: error.stack,
    ...(cause instanceof Error && { cause: faultOf(cause) }),
  };
};

/** The log: faults only, for whoever runs the server. No address lines, codes, sessions, or names of photos and dyes. */
export const createFaultLog = (destination: DestinationStream, options: LoggerOptions = {}): Logger =>
  pino({ base: null, serializers: { err: faultOf }, ...options }, destination);
