import { afterEach, describe, expect, it } from 'vitest';
import { draft, hasEntered } from '../../web/draft.ts';

afterEach(() => {
  for (const text of [draft.times, draft.dye, draft.cloth, draft.light]) text.value = '';
});

describe('the draft of a reading', () => {
  it('holds nothing that was entered at first, blanks included, and something from the first word on', () => {
    expect(hasEntered()).toBe(false);
    draft.dye.value = '  ';
    expect(hasEntered()).toBe(false);
    draft.times.value = '0; 1:00';
    expect(hasEntered()).toBe(true);
    draft.times.value = '';
    draft.cloth.value = 'hemp';
    expect(hasEntered()).toBe(true);
  });
});
