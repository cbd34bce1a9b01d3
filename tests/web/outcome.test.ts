import { beforeAll, describe, expect, it } from 'vitest';
import { printReached } from '../../server/contracts/recordUse.ts';
import { fieldMoment, momentIn } from '../../web/record/moments.ts';
import { clearOutcome, isOutcome, outcomeDraft, outcomeOf, whyNoStops } from '../../web/today/outcome.ts';
import { speak } from '../../web/words.ts';

beforeAll(() => speak('en'));

describe('how a print came out', () => {
  it('is nothing at first, and the book takes that', () => {
    const said = outcomeOf(outcomeDraft());
    expect(said).toEqual({ reachedL: null, reachedUL: null, judged: null });
    expect(printReached.parse(said)).toEqual(said);
  });

  it('by eye keeps no number that was typed before', () => {
    const draft = outcomeDraft();
    draft.L.value = '45';
    draft.how.value = 'paler';
    expect(outcomeOf(draft)).toEqual({ reachedL: null, reachedUL: null, judged: 'paler' });
  });

  it('measured is read with a comma: 38,2 ± 0,4', () => {
    const draft = outcomeDraft();
    draft.how.value = 'measured';
    draft.L.value = '38,2';
    draft.u.value = '0,4';
    expect(outcomeOf(draft)).toEqual({ reachedL: 38.2, reachedUL: 0.4, judged: null });
  });

  it.each([
    ['', '', { L: true, u: false }],
    ['101', '', { L: true, u: false }],
    ['-1', '0', { L: true, u: true }],
    ['40', '0', { L: false, u: true }],
    ['40', '51', { L: false, u: true }],
    ['deep', 'little', { L: true, u: true }],
  ])('measured "%s" ± "%s" is told wrong, each number for itself', (L, u, problems) => {
    const draft = outcomeDraft();
    draft.how.value = 'measured';
    draft.L.value = L;
    draft.u.value = u;
    const said = outcomeOf(draft);
    expect(isOutcome(said)).toBe(false);
    expect(said).toEqual(problems);
  });

  it('of a print that has it is there to be corrected, and can be taken back', () => {
    const draft = outcomeDraft({ reachedL: 38.24, reachedUL: null, judged: 'paler' });
    expect([draft.how.value, draft.L.value, draft.u.value]).toEqual(['measured', '38.24', '']);
    clearOutcome(draft);
    expect(outcomeOf(draft)).toEqual({ reachedL: null, reachedUL: null, judged: null });
  });

  it('is too pale to say in stops at 4 % depth and too deep at 97 %; no reason is given where stops are', () => {
    const untold = (reachedDepthPercent: number | null, missedStops: number | null = null) =>
      whyNoStops({ reachedDepthPercent, missedStops });
    expect(untold(4)).toBe('pale');
    expect(untold(97)).toBe('deep');
    expect(untold(60, 0.1)).toBeNull();
    // Without a curve in the book the line says already that nothing was promised.
    expect(untold(null)).toBeNull();
  });
});

describe('when a print was made', () => {
  it('goes into the field and comes back to the minute, whatever the clock’s zone', () => {
    const at = Date.UTC(2026, 5, 3, 9, 30, 0);
    expect(momentIn(fieldMoment(at), at)).toBe(at);
  });

  it('is none where the field is empty or the day is still to come', () => {
    const now = Date.UTC(2026, 5, 3, 9, 30, 0);
    expect(momentIn('', now)).toBeNull();
    expect(momentIn(fieldMoment(now + 86_400_000), now)).toBeNull();
  });
});
