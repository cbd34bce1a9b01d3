import { describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../analysis/plan/cautions.ts';
import { errorCode } from '../../server/contracts/errors.ts';
import { words } from '../../web/words.ts';

describe('words', () => {
  it.each(errorCode.options)('say what happened and what to do next for %s', (code) => {
    const { what, next } = words.errors[code];
    expect(what).toMatch(/^[A-Z].*\.$/);
    expect(next).toMatch(/^[A-Z].*\.$/);
    expect(next).not.toBe(what);
  });

  it('carry every caution of the planner, none shortened away', () => {
    expect(words.cautions.list).toHaveLength(CAUTIONS.length);
    for (const { text } of CAUTIONS) expect(words.cautions.list).toContain(text);
  });
});
