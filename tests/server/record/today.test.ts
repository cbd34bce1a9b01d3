import { mean, sampleStandardDeviation } from 'simple-statistics';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import type { Reading } from '../../../analysis/reading.ts';
import type { KeptReading } from '../../../server/contracts/recordReadings.ts';
import { type DoubtCode, feedback, type Today, today } from '../../../server/contracts/recordUse.ts';
import type { Book } from '../../../server/record/book.ts';
import { keepControl } from '../../../server/record/controls.ts';
import { feedbackOf } from '../../../server/record/feedback.ts';
import { keepReading } from '../../../server/record/keepReading.ts';
import { keepPrint, sayReached } from '../../../server/record/prints.ts';
import { setPutAway } from '../../../server/record/rows.ts';
import { makeThing } from '../../../server/record/things.ts';
import { whatTimeToday } from '../../../server/record/today.ts';
import { Refusal } from '../../../server/refusal.ts';
import { demoFiles, directAnalyst } from '../../helpers/serverUnderTest.ts';
import { temporaryBook } from '../../helpers/temporaryBook.ts';

const hemp = demoFiles('hemp-banner-blue');
const strip = JSON.parse(hemp.strip);
const marks = parseMarks(JSON.parse(hemp.marks));
const HALF = { kind: 'depth', percent: 60 } as const;

let clock = 0;
/** The photo is the same throughout: it is read once. */
let known: Promise<Reading> | null = null;
/** What the next photos are read as, in place of what is in them. */
let change: (reading: Reading) => Reading = (reading) => reading;
const books: Book[] = [];
afterAll(() => Promise.all(books.map((book) => book.close())));

const days = (n: number) => n * 86_400_000;

/** A book with one calibration, made on 2026-06-01. */
const bookWith = async (context: Record<string, unknown> = {}) => {
  clock = Date.parse('2026-06-01T08:00:00Z');

  const book = temporaryBook(
    {
      read: async (task) => {
        known ??= directAnalyst.read(task);
        return change(await known);
      },
    },
    () => new Date(clock),
  );
  books.push(book);
  const desk = await book.desk();
  const keep = (more: Record<string, unknown> = {}) =>
    keepReading(desk, {
      photo: hemp.photo,
      strip,
      marks,
      context: {
        purpose: 'calibration',
        dyeId: null,
        clothId: null,
        lightId: null,
        lightKind: 'lamps',
        batchId: null,
        cardId: null,
        planId: null,
        lampHours: 100,
        sky: null,
        confirmed: false,
        remark: '',
        ...context,
        ...more,
      } as never,
    });
  const kept = await keep();
  const { dyeId, clothId, lightId } = kept.line;
  const ask = async (more: Record<string, unknown> = {}): Promise<Today> =>
    today.parse(
      await whatTimeToday(desk, {
        dyeId,
        clothId,
        lightId,
        target: HALF,
        batchId: null,
        cardId: null,
        lampHours: 110,
        sky: null,
        ...more,
      }),
    );
  return { desk, keep, kept, ask, use: { dyeId, clothId, lightId } };
};

const codes = (answer: Today): DoubtCode[] =>
  answer.kind === 'no-calibration' ? [] : answer.doubts.map((d) => d.code);
const timed = (answer: Today) => {
  if (answer.kind !== 'time') throw new Error(`no time: ${answer.sentence}`);
  return answer;
};
const curveOf = ({ reading }: KeptReading) => {
  if (reading.curve.kind !== 'fitted') throw new Error('no curve');
  return reading.curve.curve;
};
/** L* of the kept curve at a time, by its own parameters: K/S build-up, Kubelka–Munk, CIE 15. */
const lightness = (kept: KeptReading, seconds: number): number => {
  const { shape } = curveOf(kept);
  if (shape.model !== 'build-up') throw new Error(`another model: ${shape.model}`);
  const ks = shape.ksBase + shape.k * (1 - Math.exp(-((seconds / shape.tauSeconds) ** shape.p)));
  const R = 1 + ks - Math.sqrt(ks * ks + 2 * ks);
  return R > 216 / 24389 ? 116 * Math.cbrt(R) - 16 : (24389 / 27) * R;
};
const control = (
  kept: KeptReading,
  seconds: number,
  shiftStops: number,
  more: Record<string, unknown> = {},
) => ({
  againstId: kept.line.id,
  readingId: null,
  scraps: [{ seconds, L: lightness(kept, seconds * 2 ** shiftStops), uL: 0.3 }],
  setup: '',
  batchId: null,
  lampHours: null,
  sky: null,
  remark: '',
  ...more,
});

describe('what time today', () => {
  it("answers the calibration's own time and interval where nothing has moved", async () => {
    const { ask, kept } = await bookWith();
    clock += days(3);
    const answer = timed(await ask({ target: kept.reading.advice.target }));
    expect(answer.seconds).toBeCloseTo(kept.reading.advice.seconds!, 9);
    expect(answer.low).toBeCloseTo(kept.reading.advice.low!, 9);
    expect(answer.high).toBeCloseTo(kept.reading.advice.high!, 9);
    expect(answer.roundedSeconds).toBe(kept.reading.advice.roundedSeconds);
    expect(answer.basis).toMatchObject({ readingId: kept.line.id, ageDays: 3, ofHowMany: 1 });
    expect(answer.moved.by).toBe('nothing');
    expect(answer.sentence).toMatch(/3 days ago/);
  });

  it('halves the time where a control scrap says one stop faster, and the interval holds both', async () => {
    const { desk, ask, kept } = await bookWith();
    const before = timed(await ask());
    clock += days(1);
    await keepControl(desk, control(kept, 120, 1) as never);
    const answer = timed(await ask());
    expect(answer.moved.by).toBe('control');
    expect(answer.moved.shiftStops.value).toBeCloseTo(1, 6);
    expect(answer.seconds).toBeCloseTo(before.seconds / 2, 6);
    expect(answer.low).toBeLessThan(answer.seconds);
    expect(answer.high).toBeGreaterThan(answer.seconds);
    expect(answer.predictedDepthPercent).toBeCloseTo(60, 0);
  });

  it('goes back to the own time when the control scrap is put away', async () => {
    const { desk, ask, kept } = await bookWith();
    const before = timed(await ask());
    clock += days(1);
    const { id } = await keepControl(desk, control(kept, 120, 1) as never);
    await setPutAway(desk, { kind: 'control', id }, true);
    expect(timed(await ask()).seconds).toBe(before.seconds);
    await setPutAway(desk, { kind: 'control', id }, false);
    expect(timed(await ask()).seconds).toBeCloseTo(before.seconds / 2, 6);
  });

  it('follows the mean of ten steady control scraps of +0.2 stop, not the last', async () => {
    const { desk, ask, kept } = await bookWith();
    const before = timed(await ask());
    const shifts = [0.18, 0.22, 0.2, 0.21, 0.19, 0.23, 0.17, 0.2, 0.22, 0.18];
    for (const shift of shifts) {
      clock += days(1);
      await keepControl(desk, control(kept, 120, shift, { lampHours: 101 }) as never);
    }
    const answer = timed(await ask());
    expect(answer.moved.by).toBe('controls');
    expect(answer.moved.shiftStops.value).toBeCloseTo(mean(shifts), 3);
    expect(answer.seconds).toBeCloseTo(before.seconds / 2 ** mean(shifts), 1);
    expect(answer.moved.controlIds).toHaveLength(10);
  });

  it('does not follow a tenth scrap that jumps by a stop, and says to repeat it', async () => {
    const { desk, ask, kept } = await bookWith();
    for (const shift of [0.01, -0.02, 0.0, 0.02, -0.01, 0.01, 0.0, -0.02, 0.02, 1]) {
      clock += days(1);
      await keepControl(desk, control(kept, 120, shift) as never);
    }
    const answer = timed(await ask());
    expect(codes(answer)).toContain('control-jump');
    expect(answer.trusted).toBe(false);
    expect(answer.moved.controlIds).toHaveLength(9);
  });

  it('draws the curves beside a calibration once where an archive did not bring them, and answers the same from them', async () => {
    const { desk, kept, ask } = await bookWith();
    const draws = () =>
      desk.store.read((db) =>
        db.selectFrom('curveDraws').select('drawsJson').where('readingId', '=', kept.line.id).execute(),
      );
    const [before] = await draws();
    const answer = await ask();
    await desk.store.write((db) => db.deleteFrom('curveDraws').execute());
    expect(await ask()).toEqual(answer);
    expect(await draws()).toEqual([before]);
    expect(await ask()).toEqual(answer);
  });

  it('answers from an imported calibration though its curves can not be kept just now', async () => {
    const { desk, ask, kept } = await bookWith();
    const answer = await ask();
    await desk.store.write((db) => db.deleteFrom('curveDraws').execute());
    const { dyeId, clothId, lightId } = kept.line;
    const refusing = {
      ...desk.store,
      write: async () => {
        throw new Refusal('disk-full', 'The disk is full.');
      },
    };
    const question = { dyeId, clothId, lightId, target: HALF, batchId: null, cardId: null };
    const asked = whatTimeToday({ ...desk, store: refusing }, { ...question, lampHours: 110, sky: null });
    expect(await asked).toEqual(answer);
  });

  it('has no answer for a light without calibration, and says what to do', async () => {
    const { desk, ask } = await bookWith();
    const sun = await makeThing(desk, 'lights', {
      name: 'Sun',
      kind: 'sun',
      distanceCm: null,
      glass: '',
      lampHours: null,
      remark: '',
    });
    const answer = await ask({ lightId: sun.id });
    expect(answer).toMatchObject({ kind: 'no-calibration' });
    expect(answer.sentence).toMatch(/Sun/);
    expect(answer.sentence).toMatch(/test strip/);
  });

  it('names the status and the next strip where no exposure gets there: L* 3', async () => {
    const { ask } = await bookWith();
    expect(await ask({ target: { kind: 'L', L: 3 } })).toMatchObject({
      kind: 'no-time',
      status: 'unattainable',
    });
  });

  it('takes the newest calibration, that of the same batch before a newer one of another, and none of those put away', async () => {
    const { desk, keep, kept, ask } = await bookWith();
    const batch = (name: string) =>
      makeThing(desk, 'batches', { name, dyeId: null, mixedAt: '2026-05-30T00:00:00.000Z', remark: '' });
    const [a, b] = [await batch('A'), await batch('B')];
    clock += days(1);
    const ofA = await keep({ batchId: a.id });
    clock += days(1);
    const ofB = await keep({ batchId: b.id });
    const basis = async (more = {}) => {
      const answer = await ask(more);
      return answer.kind === 'no-calibration' ? null : answer.basis.readingId;
    };
    expect(await basis()).toBe(ofB.line.id);
    expect(await basis({ batchId: a.id })).toBe(ofA.line.id);
    await setPutAway(desk, { kind: 'reading', id: ofB.line.id }, true);
    expect(await basis({ batchId: b.id })).toBe(ofA.line.id);
    expect(await basis({ at: '2026-06-01T09:00:00.000Z' })).toBe(kept.line.id);
  });

  it('takes neither a control nor a print for a calibration', async () => {
    const { keep, kept, ask } = await bookWith();
    clock += days(1);
    await keep({ purpose: 'control' });
    await keep({ purpose: 'print' });
    const answer = timed(await ask());
    expect(answer.basis).toMatchObject({ readingId: kept.line.id, ofHowMany: 1 });
  });
});

describe('reasons not to trust a time', () => {
  it('has none that count on the day after, with the same batch and few lamp hours more', async () => {
    const { desk, keep, ask } = await bookWith();
    const { id } = await makeThing(desk, 'batches', {
      name: 'A',
      dyeId: null,
      mixedAt: '2026-05-31T00:00:00.000Z',
      remark: '',
    });
    await keep({ batchId: id });
    clock += days(1);
    const answer = timed(await ask({ batchId: id, lampHours: 108 }));
    expect(answer.doubts.filter((d) => d.weight === 'distrust')).toEqual([]);
    expect(answer.trusted).toBe(true);
  });

  it.each([
    ['150 lamp hours since', { lampHours: 250 }, 'lamp-hours'],
    ['a meter that went back', { lampHours: 5 }, 'lamps-replaced'],
    ['unknown lamp hours', { lampHours: null }, 'lamp-hours-unknown'],
    ['no batch noted', {}, 'batch-unknown'],
  ] as const)('says so for %s', async (_, more, code) => {
    const { ask } = await bookWith();
    clock += days(1);
    expect(codes(await ask(more))).toContain(code);
  });

  it('says so for another batch, but only notes it where a control scrap of that batch was made', async () => {
    const { desk, keep, kept, ask } = await bookWith();
    const batch = (name: string) =>
      makeThing(desk, 'batches', { name, dyeId: null, mixedAt: '2026-05-31T00:00:00.000Z', remark: '' });
    const [a, b] = [await batch('A'), await batch('B')];
    const second = await keep({ batchId: a.id });
    clock += days(1);
    const weight = async () => {
      const answer = timed(await ask({ batchId: b.id }));
      return answer.doubts.find((d) => d.code === 'other-batch')?.weight;
    };
    expect(await weight()).toBe('distrust');
    await keepControl(desk, control(second, 120, 0.1, { batchId: b.id }) as never);
    expect(await weight()).toBe('note');
    expect(kept.line.id).not.toBe(second.line.id);
  });

  it('says so for a batch that was 1 day old then and is 31 now', async () => {
    const { desk, keep, ask } = await bookWith();
    const { id } = await makeThing(desk, 'batches', {
      name: 'A',
      dyeId: null,
      mixedAt: '2026-05-31T08:00:00.000Z',
      remark: '',
    });
    await keep({ batchId: id });
    clock += days(30);
    const answer = timed(await ask({ batchId: id }));
    expect(answer.doubts.find((d) => d.code === 'batch-age')?.message).toMatch(/31 days old and was 1/);
  });

  it('says so for the sun: never without a control scrap, the season after 60 days, the sky as a rough factor', async () => {
    const { ask } = await bookWith({ lightKind: 'sun', lampHours: null, sky: 'clear' });
    const clear = timed(await ask({ sky: 'clear', lampHours: null }));
    expect(codes(clear)).toContain('sun');
    expect(codes(clear)).not.toContain('season');
    clock += days(60);
    const broken = timed(await ask({ sky: 'broken', lampHours: null }));
    expect(codes(broken)).toEqual(expect.arrayContaining(['sun', 'season', 'sky']));
    // Broken cloud lets 73 % of a clear sky's ultraviolet through: US EPA figures, as in docs/sources.md [domain-4.13].
    expect(broken.seconds / clear.seconds).toBeCloseTo(1 / 0.73, 6);
    expect(broken.high / broken.low).toBeGreaterThan(clear.high / clear.low);
  });

  it('takes a control scrap in the sun for as long as the light holds: 1 hour, not the next day', async () => {
    const { desk, kept, ask } = await bookWith({ lightKind: 'sun', lampHours: null });
    clock += days(10);
    await keepControl(desk, control(kept, 120, -0.5) as never);
    clock += days(1 / 24);
    const fresh = timed(await ask({ lampHours: null }));
    expect(fresh.moved.by).toBe('control');
    expect(fresh.trusted).toBe(true);
    clock += days(1);
    const stale = timed(await ask({ lampHours: null }));
    expect(stale.moved.by).toBe('nothing');
    expect(stale.trusted).toBe(false);
  });

  it('says so for a relative reading, another card, 400 days, another method, and marks nobody looked at', async () => {
    change = (reading) => ({ ...reading, tone: { ...reading.tone, relative: true }, methodVersion: '0' });
    const { desk, keep, ask } = await bookWith();
    const card = (name: string) => makeThing(desk, 'cards', { name, card: 'white-grey-black', remark: '' });
    const [old, other] = [await card('Old'), await card('New')];
    const kept = await keep({ cardId: old.id });
    change = (reading) => reading;
    await desk.store.write((db) =>
      db.updateTable('readings').set({ confirmed: 0 }).where('id', '=', kept.line.id).execute(),
    );
    clock += days(400);
    const answer = timed(await ask({ cardId: other.id }));
    expect(codes(answer)).toEqual(
      expect.arrayContaining(['relative', 'other-card', 'old', 'other-method', 'marks-unconfirmed']),
    );
    expect(answer.sentence).toMatch(/scrap first/);
  });

  it('takes the time from another light where a control scrap ties this one to it, and notes that', async () => {
    const { desk, keep, kept, ask } = await bookWith();
    const before = timed(await ask());
    const led = await makeThing(desk, 'lights', {
      name: 'Diodes',
      kind: 'lamps',
      distanceCm: 20,
      glass: '',
      lampHours: null,
      remark: '',
    });
    change = (reading) => ({
      ...reading,
      steps: [{ ...reading.steps[0], seconds: 60, L: lightness(kept, 120), uL: 0.3 }],
    });
    clock += days(1);
    const scrap = await keep({ purpose: 'control', lightId: led.id });
    change = (reading) => reading;
    const made = await keepControl(desk, {
      againstId: kept.line.id,
      readingId: scrap.line.id,
      setup: '',
      batchId: null,
      lampHours: null,
      sky: null,
      remark: '',
    });
    expect(made).toMatchObject({ lightId: led.id, readingId: scrap.line.id });
    expect(made.shiftStops.value).toBeCloseTo(1, 6);
    const answer = timed(await ask({ lightId: led.id }));
    expect(answer.seconds).toBeCloseTo(before.seconds / 2, 6);
    expect(codes(answer)).toContain('other-light');
    expect(answer.basis.readingId).toBe(kept.line.id);
  });
});

describe('control scraps', () => {
  it('are refused without a calibration to hold them against, or with one that is not there', async () => {
    const { desk, kept } = await bookWith();
    await expect(
      keepControl(desk, { ...control(kept, 120, 0), againstId: null } as never),
    ).rejects.toMatchObject({ code: 'request-invalid' });
    await expect(
      keepControl(desk, { ...control(kept, 120, 0), againstId: crypto.randomUUID() } as never),
    ).rejects.toMatchObject({ code: 'not-found' });
  });

  it('are refused where the calibration is of another dye, and without one from before', async () => {
    const { desk, keep, kept } = await bookWith();
    const madder = await makeThing(desk, 'dyes', { name: 'Madder', remark: '' });
    const scrap = await keep({ purpose: 'control', dyeId: madder.id });
    const fields = { ...control(kept, 120, 0), scraps: undefined, readingId: scrap.line.id };
    await expect(keepControl(desk, fields as never)).rejects.toMatchObject({ code: 'book-conflict' });
    await expect(keepControl(desk, { ...fields, againstId: null } as never)).rejects.toMatchObject({
      code: 'no-calibration',
    });
  });

  it('and prints that are sent twice under one id are kept once', async () => {
    const { desk, kept, use } = await bookWith();
    const id = crypto.randomUUID();
    const one = await keepControl(desk, control(kept, 120, 0.1, { id }) as never);
    expect(await keepControl(desk, control(kept, 120, 0.4, { id }) as never)).toEqual(one);
    const print = {
      ...use,
      id,
      batchId: null,
      lampHours: null,
      sky: null,
      secondsUsed: 60,
      calibrationId: null,
    };
    const fields = {
      ...print,
      predictedL: null,
      reachedL: 50,
      reachedUL: null,
      judged: null,
      readingId: null,
      remark: '',
    };
    const first = await keepPrint(desk, fields as never);
    expect(await keepPrint(desk, { ...fields, reachedL: 40 } as never)).toEqual(first);
    expect((await feedbackOf(desk, use)).prints).toHaveLength(1);
  });

  it('that are too pale are kept, say so, and move nothing', async () => {
    const { desk, kept, ask } = await bookWith();
    const before = timed(await ask());
    clock += days(1);
    const made = await keepControl(desk, control(kept, 1, 0) as never);
    expect(made.shiftStops.value).toBeNull();
    expect(made.sentence).toMatch(/10 and 90 % depth/);
    const answer = timed(await ask());
    expect(answer.seconds).toBe(before.seconds);
    expect(codes(answer)).toContain('control-unusable');
  });
});

describe('prints made', () => {
  const printed = (use: object, secondsUsed: number, reachedL: number | null, more: object = {}) =>
    ({
      ...use,
      batchId: null,
      lampHours: null,
      sky: null,
      secondsUsed,
      calibrationId: null,
      predictedL: null,
      reachedL,
      reachedUL: reachedL === null ? null : 0.4,
      judged: null,
      readingId: null,
      remark: '',
      ...more,
    }) as never;

  it('say what was predicted for the time used and by how many stops it missed', async () => {
    const { desk, kept, use } = await bookWith();
    const made = await keepPrint(desk, printed(use, 120, lightness(kept, 120 * 2 ** 0.25)));
    expect(made.calibrationId).toBe(kept.line.id);
    expect(made.predictedL).toBeCloseTo(lightness(kept, 120), 6);
    expect(made.missedStops).toBeCloseTo(0.25, 6);
  });

  it('can say later what they reached', async () => {
    const { desk, kept, use } = await bookWith();
    const wet = await keepPrint(desk, printed(use, 120, null));
    expect(wet).toMatchObject({ reachedL: null, missedStops: null });
    const dry = await sayReached(desk, wet.id, {
      reachedL: lightness(kept, 100),
      reachedUL: null,
      judged: null,
    });
    expect(dry.missedStops).toBeCloseTo(Math.log2(100 / 120), 6);
  });

  it('count with the shift of the light: half the time at one stop more misses nothing', async () => {
    const { desk, kept, use } = await bookWith();
    clock += days(1);
    await keepControl(desk, control(kept, 120, 1) as never);
    const made = await keepPrint(desk, printed(use, 60, lightness(kept, 120)));
    expect(made.movedStops).toBeCloseTo(1, 6);
    expect(made.missedStops).toBeCloseTo(0, 6);
  });

  it('show their bias with a 90 % interval, and it is a reason to doubt the next time', async () => {
    const { desk, kept, use, ask } = await bookWith();
    const missed = [0.3, 0.25, 0.35, 0.28, 0.32];
    for (const stops of missed) await keepPrint(desk, printed(use, 120, lightness(kept, 120 * 2 ** stops)));
    const found = feedback.parse(await feedbackOf(desk, use));
    // Student's t, 4 degrees of freedom, 95 % one-sided: 2.132 (NIST/SEMATECH e-Handbook, table 1.3.6.7.2).
    const half = (2.132 * sampleStandardDeviation(missed)) / Math.sqrt(5);
    expect(found.missedStops.value).toBeCloseTo(mean(missed), 6);
    expect(found.missedStops.low).toBeCloseTo(mean(missed) - half, 3);
    expect(found.missedStops.high).toBeCloseTo(mean(missed) + half, 3);
    expect(found.biased).toBe(true);
    expect(found.depthPercent.value).toBeGreaterThan(0);
    expect(found.sentence).toMatch(/5 prints came out 0\.30 stop \(90 %: 0\.26 to 0\.34\), .* deeper/);
    clock += days(1);
    expect(codes(await ask())).toContain('prints-missed');
  });

  it('that five eyes in five call paler than promised are a reason to doubt the next time; four are not', async () => {
    const { desk, use, ask } = await bookWith();
    const paler = () => keepPrint(desk, printed(use, 120, null, { judged: 'paler' }));
    for (let i = 0; i < 4; i++) await paler();
    expect((await feedbackOf(desk, use)).byEye).toEqual({ paler: 4, right: 0, deeper: 0, leans: null });
    expect(codes(await ask())).not.toContain('prints-missed');
    await paler();
    const found = feedback.parse(await feedbackOf(desk, use));
    expect(found.byEye).toEqual({ paler: 5, right: 0, deeper: 0, leans: 'paler' });
    expect(found.sentence).toBe(
      'By eye: 5 paler, 0 as promised, 0 deeper than promised, which is more than chance: the times lean to one side. Make a new strip.',
    );
    clock += days(1);
    const [doubt] = timed(await ask()).doubts.filter(({ code }) => code === 'prints-missed');
    expect(doubt.message).toBe('5 of 5 prints judged by eye came out paler than promised: make a new strip.');
  });

  it('that were measured count as measured, whatever the eye said; and what was said is taken back', async () => {
    const { desk, kept, use } = await bookWith();
    const made = await keepPrint(
      desk,
      printed(use, 120, lightness(kept, 120 * 2 ** 0.25), { judged: 'paler' }),
    );
    expect((await feedbackOf(desk, use)).byEye.paler).toBe(0);
    const seen = await sayReached(desk, made.id, { reachedL: null, reachedUL: null, judged: 'deeper' });
    expect(seen).toMatchObject({ reachedL: null, missedStops: null, judged: 'deeper' });
    expect((await feedbackOf(desk, use)).byEye.deeper).toBe(1);
    const back = await sayReached(desk, made.id, { reachedL: null, reachedUL: null, judged: null });
    expect(back).toMatchObject({ reachedL: null, judged: null });
    expect((await feedbackOf(desk, use)).byEye).toEqual({ paler: 0, right: 0, deeper: 0, leans: null });
  });

  it('show no bias where they scatter about what was predicted', async () => {
    const { desk, kept, use, ask } = await bookWith();
    for (const stops of [0.1, -0.1, 0.05, -0.06])
      await keepPrint(desk, printed(use, 120, lightness(kept, 120 * 2 ** stops)));
    const found = await feedbackOf(desk, use);
    expect(found.biased).toBe(false);
    expect(found.sentence).toMatch(/chance/);
    clock += days(1);
    expect(codes(await ask())).not.toContain('prints-missed');
  });
});

beforeAll(() => {
  change = (reading) => reading;
});
