import { describe, expect, it } from 'vitest';
import { errorCode } from '../../server/contracts/errors.ts';
import { STATUS_OF_CODE } from '../../server/statusOfCode.ts';

describe('STATUS_OF_CODE', () => {
  it('has a status for exactly the codes of the contract', () => {
    expect(Object.keys(STATUS_OF_CODE).sort()).toEqual([...errorCode.options].sort());
  });

  it.each([
    // Meanings of the status codes: RFC 9110 §15.5 and §15.6
    ['photo-format-unsupported', 415],
    ['upload-too-large', 413],
    ['photo-damaged', 422],
    ['strip-invalid', 400],
    ['host-refused', 403],
    ['not-found', 404],
    ['busy', 503],
    ['timed-out', 504],
    ['internal', 500],
  ] as const)('says %s with %i', (code, status) => {
    expect(STATUS_OF_CODE[code]).toBe(status);
  });
});
