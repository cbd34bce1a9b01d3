import { readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { z } from 'zod';
import { AnalysisError } from '../analysis/errors.ts';
import { parseStrip } from '../analysis/level/parseStrip.ts';
import { parseMarks } from '../analysis/locate/parseMarks.ts';
import type { Reading } from '../analysis/reading.ts';
import type { Analyst } from './analyst.ts';
import type { DemoAnswer, DemoSummary } from './contracts/answers.ts';
import { type StripDescription, stripDescription } from './contracts/strip.ts';
import type { PhotoPreviews } from './photoPreviews.ts';

const manifestShape = z.object({
  photos: z
    .array(
      z.object({
        file: z.string().regex(/^[a-z0-9-]+\.jpg$/),
        title: z.string(),
        story: z.string(),
        strip: z.object({ file: z.string() }),
        marks: z.object({ file: z.string() }),
      }),
    )
    .min(1),
});

/** A demo photo as its manifest describes it. */
export interface DemoEntry {
  readonly id: string;
  readonly title: string;
  readonly story: string;
  readonly photoPath: string;
  readonly strip: StripDescription;
  /** Where card and steps are: used only where the photo can't be read without. */
  readonly marks: unknown;
}

/** The strips that the page opens on: real photos of this package, read by the pipeline like any other. */
export interface Demos {
  list(): readonly DemoSummary[];
  /** Reads a demo's photo once and remembers the reading; null for an unknown name. */
  read(id: string): Promise<DemoAnswer | null>;
  photo(id: string): Promise<Uint8Array | null>;
  /** Begins to read the first demo, so that the page opens on it at once. */
  warmUp(): void;
}

/** The demo photos of the package, with what the printer says about each strip. */
export const loadDemoEntries = (folder: string): readonly DemoEntry[] => {
  const json = (file: string): unknown => JSON.parse(readFileSync(join(folder, basename(file)), 'utf8'));
  return manifestShape.parse(json('manifest.json')).photos.map(({ file, title, story, strip, marks }) => ({
    id: basename(file, '.jpg'),
    title,
    story,
    photoPath: join(folder, file),
    strip: stripDescription.parse(json(strip.file)),
    marks: json(marks.file),
  }));
};

export const createDemos = (
  entries: readonly DemoEntry[],
  analyst: Analyst,
  previews: PhotoPreviews,
): Demos => {
  const readings = new Map<string, Promise<Reading>>();
  const find = (id: string): DemoEntry | undefined => entries.find((entry) => entry.id === id);
  const photoOf = async (entry: DemoEntry): Promise<Uint8Array> =>
    new Uint8Array(await readFile(entry.photoPath));

  const readNow = async (entry: DemoEntry): Promise<Reading> => {
    const task = { kind: 'read', photo: await photoOf(entry), strip: parseStrip(entry.strip) } as const;
    try {
      return await analyst.read(task);
    } catch (error) {
      if (!(error instanceof AnalysisError)) throw error;
      return analyst.read({ ...task, marks: parseMarks(entry.marks) });
    }
  };

  const readOnce = (entry: DemoEntry): Promise<Reading> => {
    const known = readings.get(entry.id);
    if (known) return known;
    const reading = readNow(entry);
    readings.set(entry.id, reading);
    reading.catch(() => readings.delete(entry.id));
    return reading;
  };

  const demos: Demos = {
    list: () => entries.map(({ id, title, story }) => ({ id, title, story })),
    async read(id) {
      const entry = find(id);
      if (!entry) return null;
      const { title, story, strip } = entry;
      const reading = await readOnce(entry);
      const preview = await previews.of(await photoOf(entry));
      return { demo: { id, title, story }, strip, photoHref: `/api/demos/${id}/photo`, reading, preview };
    },
    async photo(id) {
      const entry = find(id);
      return entry ? photoOf(entry) : null;
    },
    warmUp() {
      const first = entries[0];
      if (first) demos.read(first.id).catch(() => undefined);
    },
  };
  return demos;
};
