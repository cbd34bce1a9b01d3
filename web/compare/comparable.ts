import type { Curve, Reading } from '../../server/contracts/reading.ts';
import { fetchDemo } from '../api.ts';
import { stripNameOf } from '../book/stripNameOf.ts';
import { formatDay } from '../numbers.ts';
import { fetchKept, fetchReadings } from '../record/recordApi.ts';
import { demoText } from '../sentences/demoText.ts';
import { demos } from '../session.ts';
import { shelf } from '../shelf/shelf.ts';
import { words } from '../words.ts';

/** A strip that can be chosen for comparing. */
export interface Candidate {
  readonly key: string;
  readonly name: string;
  /** When and under which light, to tell strips of one dye on one cloth apart. */
  readonly detail: string;
  readonly isDemo: boolean;
}

/** A strip that is being compared. */
export interface Compared extends Candidate {
  readonly reading: Reading;
  readonly curve: Curve;
}

const MOST_KEPT = 100;

const detailOf = (light: string, date: string): string => [light, date].filter(Boolean).join(' · ');

/** All strips with a curve that this browser, the book and the demos have. */
export const candidates = async (): Promise<readonly Candidate[]> => {
  const kept = await fetchReadings({ purpose: 'calibration', limit: MOST_KEPT }).catch(() => null);
  const inBook = new Set(kept?.readings.map(({ id }) => id));
  return [
    ...shelf.value
      .filter(({ reading, keptId }) => reading.curve.kind === 'fitted' && !inBook.has(keptId ?? ''))
      .map(({ key, strip, readAt }) => ({
        key,
        name: stripNameOf(strip),
        detail: detailOf(strip.light, words.book.readAt(formatDay(readAt))),
        isDemo: false,
      })),
    ...(kept?.readings ?? [])
      .filter(({ deepestL }) => deepestL !== null)
      .map((line) => ({
        key: `kept-${line.id}`,
        name: stripNameOf(line),
        detail: detailOf(line.light, words.book.exposedAt(formatDay(Date.parse(line.exposedAt)))),
        isDemo: false,
      })),
    ...demos.value.map((demo) => ({
      key: `demo-${demo.id}`,
      name: demoText(demo).title,
      detail: '',
      isDemo: true,
    })),
  ];
};

const readingOf = async (key: string): Promise<Reading | null> => {
  const own = shelf.value.find((strip) => strip.key === key);
  if (own) return own.reading;
  if (key.startsWith('kept-')) return (await fetchKept(key.slice(5))).reading;
  return key.startsWith('demo-') ? (await fetchDemo(key.slice(5))).reading : null;
};

/** Fetches what is to be compared; strips without a curve are left out. */
export const fetchCompared = async (chosen: readonly Candidate[]): Promise<readonly Compared[]> => {
  const read = await Promise.all(
    chosen.map(async (candidate) => {
      const reading = await readingOf(candidate.key);
      return reading?.curve.kind === 'fitted' ? { ...candidate, reading, curve: reading.curve.curve } : null;
    }),
  );
  return read.filter((one) => one !== null);
};
