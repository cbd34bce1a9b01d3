import type { z } from 'zod';
import type { ErrorCode } from './errors.ts';

/**
 * Who may use an address, each including those after it: `anyone` on the local network, `phone` once it is paired, `book`
 * for a paired phone that the computer has opened the book to, `computer` for the computer itself alone.
 */
export const VISITORS = ['anyone', 'phone', 'book', 'computer'] as const;
export type Visitors = (typeof VISITORS)[number];

/** One HTTP address: what it takes, what it answers, how it refuses. The OpenAPI page is made from these. */
export interface Endpoint {
  readonly method: 'get' | 'post' | 'patch' | 'delete';
  /** Path parameters in braces: "/api/record/dyes/{id}". */
  readonly path: string;
  /** The one place that says who comes in here; the server's guard goes by it. */
  readonly visitors: Visitors;
  readonly summary: string;
  readonly params?: z.ZodObject;
  readonly query?: z.ZodObject;
  readonly request?: {
    readonly type: 'application/json' | 'multipart/form-data' | 'application/zip';
    readonly schema: z.ZodType;
  };
  readonly response: {
    readonly status: 200 | 201;
    readonly type: string;
    /** Left out where the answer is a file. */
    readonly schema?: z.ZodType;
  };
  /** Beside those that every address has: `host-refused`, `origin-refused`, `internal`. */
  readonly errors: readonly ErrorCode[];
}
