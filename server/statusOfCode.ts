import type { ContentfulStatusCode } from 'hono/utils/http-status';
import type { AnalysisErrorCode } from '../analysis/errors.ts';
import type { ErrorCode, ServerErrorCode } from './contracts/errors.ts';

/** The one place where refusals become HTTP statuses. A code added to either side without a status does not compile. */
export const STATUS_OF_CODE: Readonly<Record<AnalysisErrorCode | ServerErrorCode, ContentfulStatusCode>> &
  Readonly<Record<ErrorCode, ContentfulStatusCode>> = {
  'photo-unreadable': 422,
  'photo-damaged': 422,
  'photo-format-unsupported': 415,
  'photo-too-large': 413,
  'photo-too-small': 422,
  'profile-unsupported': 422,
  'strip-invalid': 400,
  'card-invalid': 400,
  'marks-invalid': 400,
  'marks-outside-photo': 422,
  'marks-too-small': 422,
  'card-not-found': 422,
  'strip-not-found': 422,
  'card-unusable': 422,
  'target-invalid': 400,
  'plan-invalid': 400,
  'comparison-invalid': 400,
  'request-invalid': 400,
  'upload-too-large': 413,
  busy: 503,
  'timed-out': 504,
  'host-refused': 403,
  'origin-refused': 403,
  'pairing-needed': 401,
  'pairing-refused': 403,
  'pairing-limited': 429,
  'pairing-full': 409,
  'lan-off': 409,
  'inbox-full': 507,
  'not-found': 404,
  internal: 500,
};
