import { beforeAll, describe, expect, it } from 'vitest';
import { previewJpeg } from '../../../analysis/photo/preview.ts';
import { CAUTIONS } from '../../../analysis/plan/cautions.ts';
import { formatClock } from '../../../analysis/plan/time.ts';
import { germanCautions } from '../../../analysis/words/germanCautions.ts';
import type { Quad } from '../../../server/contracts/marks.ts';
import type { Reading } from '../../../server/contracts/reading.ts';
import { type ReportRequest, reportPdf } from '../../../server/papers/reportPdf.ts';
import { ENGLISH } from '../../web/holdTogether.ts';
import { demoReading, renamed } from '../exchange/demoReading.ts';
import { type Pdf, type PdfPage, readPdf } from './readPdf.ts';

const { reading, photo: bytes } = await demoReading('hemp-banner-blue');
const photo = await previewJpeg(bytes, { widthPx: 900 });
const request: ReportRequest = {
  reading,
  photo,
  paper: 'a4',
  made: '2026-06-30T09:30:00.000Z',
  program: 'Tonestep 0.1.0',
};
const printed = async (changes: Partial<ReportRequest>): Promise<Pdf> =>
  readPdf(await reportPdf({ ...request, ...changes }));

const squeezed = (text: string) => text.replace(/\s+/g, '');
const holds = ({ words }: Pdf, text: string) => squeezed(words).includes(squeezed(text));

/** Text that leaves the page's margins of 46 points. */
const outside = ({ texts, width, height }: PdfPage) =>
  texts.filter(({ x, y, width: w }) => x < 45 || x + w > width - 45 || y < 25 || y > height - 40);

describe('a calibration report, as pdf.js reads it', () => {
  let pdf: Pdf;
  beforeAll(async () => {
    pdf = await printed({});
  });

  it('is two A4 pages, 210 × 297 mm (ISO 216)', () => {
    expect(pdf.pages.length).toBe(2);
    for (const { width, height } of pdf.pages) {
      expect((width / 72) * 25.4).toBeCloseTo(210, 1);
      expect((height / 72) * 25.4).toBeCloseTo(297, 1);
    }
  });

  it('is Letter, 8.5 × 11 inches, where that is asked for', async () => {
    const { pages } = await printed({ paper: 'letter' });
    expect(pages.map(({ width, height }) => [width / 72, height / 72])).toEqual(pages.map(() => [8.5, 11]));
    expect(pages.flatMap(outside)).toEqual([]);
  });

  it('says the strip, the day and the program, and has a title', () => {
    for (const text of [
      'light-set blue',
      'hemp for the harbour banners · blacklight tubes, 30 cm',
      '2026-06-30',
      `Tonestep 0.1.0 · method ${reading.methodVersion} · 1 of 2`,
    ])
      expect(holds(pdf, text)).toBe(true);
    expect(pdf.info.Title).toBe('light-set blue · hemp for the harbour banners · blacklight tubes, 30 cm');
    expect(String(pdf.info.CreationDate)).toContain('20260630093000');
  });

  it('says the time to set, its interval, and the sentence of the advice', () => {
    const { advice } = reading;
    expect(holds(pdf, formatClock(advice.roundedSeconds as number))).toBe(true);
    expect(
      holds(pdf, `${formatClock(Math.round(advice.low as number))} ${advice.highOpen ? 'or longer' : 'to'}`),
    ).toBe(true);
    expect(holds(pdf, 'in 9 of 10 cases')).toBe(true);
    expect(holds(pdf, advice.sentence)).toBe(true);
  });

  it('has every step with L* and u to a tenth, its verdict in words, and the reason', () => {
    for (const step of reading.steps) {
      const time = step.seconds === 0 ? 'base–' : formatClock(step.seconds);
      expect(squeezed(pdf.words)).toContain(time);
      expect(squeezed(pdf.words)).toContain(`${step.L.toFixed(1)}${step.uL.toFixed(1)}`);
      expect(holds(pdf, step.reason)).toBe(true);
    }
    for (const verdict of ['washed-out', 'building', 'overexposed']) expect(holds(pdf, verdict)).toBe(true);
  });

  it('writes negative numbers with a minus sign: b* of the base', () => {
    expect(holds(pdf, `−${Math.abs(reading.steps[0].b).toFixed(1)}`)).toBe(true);
  });

  it('says how it was read, all warnings and all cautions', () => {
    for (const text of [
      'white, grey and black, 3 patches used',
      reading.illumination.reason,
      '1000 × 750 px, jpeg, sRGB',
      ...reading.warnings.map(({ message }) => message),
      ...CAUTIONS.map(({ text: caution }) => caution),
    ])
      expect(holds(pdf, text)).toBe(true);
  });

  it('keeps all text within the margins', () => {
    expect(pdf.pages.flatMap(outside)).toEqual([]);
  });

  it('shows the photo once, and none where there is none', async () => {
    expect(pdf.pages.map(({ pictures }) => pictures)).toEqual([1, 0]);
    const without = await printed({ photo: null });
    expect(without.pages.flatMap(({ pictures }) => pictures)).not.toContain(1);
    expect(holds(without, reading.advice.sentence)).toBe(true);
  });

  it('marks each step in the photo by its number in the table', () => {
    const numbers = pdf.pages[0].texts.filter(({ size }) => Math.abs(size - 6.5) < 0.01);
    expect(numbers.map(({ text }) => text)).toEqual(['0', '1', '2', '3', '4', '5', '6']);
    const at = numbers.map(({ x }) => x);
    expect(at).toEqual(at.toSorted((a, b) => a - b));
  });

  it('lays the times out in equal stops: places go with log2 of the time within a third of a point', () => {
    const [page] = pdf.pages;
    const row = page.texts.filter(({ size, text }) => Math.abs(size - 7) < 0.01 && /^\d\d:\d\d$/.test(text));
    const ticks = row.map(({ text, x, width }) => {
      const [minutes, seconds] = text.split(':').map(Number);
      return { stops: Math.log2(60 * minutes + seconds), x: x + width / 2 };
    });
    expect(ticks.length).toBe(6);
    const [first, last] = [ticks[0], ticks[5]];
    const perStop = (last.x - first.x) / (last.stops - first.stops);
    expect(perStop).toBeGreaterThan(50);
    for (const { stops, x } of ticks)
      expect(Math.abs(x - first.x - perStop * (stops - first.stops))).toBeLessThan(0.34);
  });

  it('numbers the stops above the shortest step, 0 at 01:00 itself', () => {
    const [page] = pdf.pages;
    const small = page.texts.filter(({ size }) => Math.abs(size - 7) < 0.01);
    const place = (text: string) => {
      const found = small.find((t) => t.text === text);
      if (!found) throw new Error(`${text} is not on the page`);
      return found.x + found.width / 2;
    };
    expect(place('0')).toBeCloseTo(place('01:00'), 0);
    expect(small.map(({ text }) => text)).toEqual(expect.arrayContaining(['0', '1', '2', '3', '4', '5']));
  });

  it('is the same bytes for the same request', async () => {
    expect(await reportPdf(request)).toEqual(await reportPdf(request));
  });
});

describe('a report in German', () => {
  let pdf: Pdf;
  beforeAll(async () => {
    pdf = await printed({ language: 'de', remarks: ['Belichtet 02.05.2026'] });
  });

  it('is German throughout: title, table, verdicts, reasons, method, cautions', () => {
    for (const text of [
      'Eichung',
      '30.06.2026',
      'Blenden über der kürzesten Stufe',
      'ΔE00 zum Grund',
      'überbelichtet',
      'Weiß, Grau und Schwarz, 3 Felder verwendet',
      'Wie gelesen wurde',
      'Verfahren',
      '1 von 2',
      ...Object.values(germanCautions),
    ])
      expect(holds(pdf, text)).toBe(true);
    const own = [reading.strip.dye, reading.strip.cloth, reading.strip.light];
    const rest = own.reduce((words, name) => words.replaceAll(name, ''), pdf.words);
    expect(rest).not.toMatch(ENGLISH);
  });

  it('has the numbers of the English one, with a decimal comma', async () => {
    for (const step of reading.steps) {
      expect(squeezed(pdf.words)).toContain(`${step.L.toFixed(1)}${step.uL.toFixed(1)}`.replaceAll('.', ','));
    }
    expect(holds(pdf, formatClock(reading.advice.roundedSeconds as number))).toBe(true);
    const english = await printed({});
    const figures = (words: string, sign: string) =>
      [...words.matchAll(new RegExp(`\\d+\\${sign}\\d{1,3}(?![\\d.])`, 'g'))]
        .map(([figure]) => figure.replace(',', '.'))
        .toSorted();
    const rows = (words: string, from: string, to: string) => words.split(from)[1].split(to)[0];
    expect(figures(rows(pdf.words, 'Wie gelesen wurde', 'Vorsicht'), ',')).toEqual(
      figures(rows(english.words, 'How it was read', 'Take care'), '.'),
    );
  });

  it.each(['a4', 'letter'] as const)('stays within the margins on %s', async (paper) => {
    for (const name of ['hemp-banner-blue', 'linen-brown-too-short'])
      expect(
        (await printed({ reading: (await demoReading(name)).reading, language: 'de', paper })).pages.flatMap(
          outside,
        ),
      ).toEqual([]);
  });

  it('keeps table heads and cells apart, whatever the language', () => {
    const rows = new Map<number, { readonly x: number; readonly width: number }[]>();
    for (const { x, y, width } of pdf.pages[0].texts) rows.set(y, [...(rows.get(y) ?? []), { x, width }]);
    const crowded = [...rows.values()]
      .filter((row) => row.length >= 9)
      .flatMap((row) => {
        const sorted = row.toSorted((a, b) => a.x - b.x);
        return sorted.slice(1).filter(({ x }, i) => x < sorted[i].x + sorted[i].width + 2);
      });
    expect([...rows.values()].filter((row) => row.length >= 9).length).toBeGreaterThanOrEqual(7);
    expect(crowded).toEqual([]);
  });

  it('says so where a reading has sentences in English only', async () => {
    const bare = reading.steps.map(({ phrase, ...step }) => step);
    const old = await printed({ reading: { ...reading, steps: bare }, language: 'de' });
    expect(holds(old, 'nur auf Englisch')).toBe(true);
    expect(holds(old, reading.steps[1].reason)).toBe(true);
    expect(holds(pdf, 'nur auf Englisch')).toBe(false);
  });
});

describe('a report of a strip out of the ordinary', () => {
  it('says that there is no time, and why, where the strip is too short', async () => {
    const short = (await demoReading('linen-brown-too-short')).reading;
    const pdf = await printed({ reading: short });
    expect(holds(pdf, 'No time')).toBe(true);
    expect(holds(pdf, short.advice.sentence)).toBe(true);
    expect(holds(pdf, short.advice.nextStrip?.reason ?? 'no next strip')).toBe(true);
  });

  it('says why there is no curve', async () => {
    const message = 'One exposed step is too few for a curve.';
    const curve = { kind: 'too-few-steps', message, points: [] } as const;
    expect(holds(await printed({ reading: { ...reading, curve } }), message)).toBe(true);
  });

  it('repeats the head of the table on every page that 60 steps need', async () => {
    const steps: Reading['steps'] = Array.from({ length: 60 }, (_, i) => ({
      ...reading.steps[1 + (i % 6)],
      seconds: 10 * 1.05 ** i,
    }));
    const pdf = await printed({ reading: { ...reading, steps } });
    const heads = pdf.pages.map(({ texts }) => texts.filter(({ text }) => text === 'Verdict').length);
    expect(heads.filter((count) => count > 0).length).toBeGreaterThanOrEqual(3);
    expect(Math.max(...heads)).toBe(1);
    expect(pdf.pages.flatMap(outside)).toEqual([]);
  });

  it.each([
    ['a name without blanks', 'indigo'.repeat(60)],
    ['a long sentence', 'blue of the third vat, second dip, rinsed twice '.repeat(8)],
    ['line ends and tabs', 'two\nlines\tand a tab'],
    ['letters that the typefaces lack', '藍染 🟦'],
    ['half a character', 'half \ud800 a character'],
    ['nothing', '  '],
  ])('holds %s within the margins', async (_, name) => {
    const pdf = await printed({ reading: renamed(reading, name, name), remarks: [name] });
    expect(pdf.pages.flatMap(outside)).toEqual([]);
    expect(holds(pdf, reading.advice.sentence)).toBe(true);
  });

  it('holds a photo that is taller than wide', async () => {
    const tall = { ...photo, photoWidthPx: 750, photoHeightPx: 1000 };
    const turned = ({ quad: [p, q, r, s] }: { readonly quad: Quad }): Quad =>
      [p, q, r, s].map(([x, y]) => [y, x]) as unknown as Quad;
    const { card, steps } = reading.marks;
    const marks = {
      card: card.map((mark) => ({ ...mark, quad: turned(mark) })),
      steps: steps.map((mark) => ({ ...mark, quad: turned(mark) })),
    };
    const pdf = await printed({ photo: tall, reading: { ...reading, marks } });
    expect(pdf.pages[0].pictures).toBe(1);
    expect(pdf.pages.flatMap(outside)).toEqual([]);
  });

  it('asks to check marks that were not found surely beside the answer', async () => {
    const warnings = [{ code: 'marks-uncertain', message: 'The second step may be misplaced.' }];
    const pdf = await printed({ reading: { ...reading, warnings } });
    expect(holds(pdf, 'Check first: The second step may be misplaced.')).toBe(true);
  });
});
