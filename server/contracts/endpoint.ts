import type { z } from 'zod';
import type { ErrorCode } from './errors.ts';

/** One HTTP address: what it takes, what it answers, how it refuses. The OpenAPI page is made from these. */
export interface Endpoint {
  readonly method: 'get' | 'post' | 'patch' | 'delete';
  /** Path parameters in braces: "/api/record/dyes/{id}". */
  readonly path: string;
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
