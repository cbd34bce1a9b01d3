import { describe, expect, it } from 'vitest';
import { families } from './families.ts';
import { outcomeOf } from './outcome.ts';
import { photoCorpus } from './photoCorpus.ts';
import { CORPUS_COUNT } from './photoFamilies.ts';

/** The short form of `npm run hostile`: every hand-made file, and some of each other kind. */
const SHORT: Readonly<Record<string, number>> = {
  'photos made by hand': CORPUS_COUNT,
  'photos, damaged': 110,
  'photos of strips, damaged, read whole': 6,
  'wrong descriptions and marks, read with a photo': 12,
  'targets sent with a photo': 6,
  'JSON made to be costly': 16,
  'names and texts for the book': 16,
};
const OTHERS = 40;

describe('hostile input', () => {
  it.each(families.map((family) => [family.name, family] as const))(
    'ends in an answer or in a refusal with a code and a sentence: %s',
    async (name, family) => {
      const run = await family.open();
      const wanted = SHORT[name] ?? OTHERS;
      const faults: string[] = [];
      for (let k = 0; k < wanted; k++) {
        const i = Math.floor((k * family.count) / wanted);
        const { fault } = await outcomeOf(() => run(i));
        if (fault !== null) faults.push(`${i}: ${fault}`);
      }
      expect(faults).toEqual([]);
    },
    60_000,
  );

  it('counts more than 20,000 inputs in the long form', () => {
    expect(families.reduce((sum, { count }) => sum + count, 0)).toBeGreaterThanOrEqual(20_000);
  });

  it('leaves none of the hand-made files out', async () => {
    expect((await photoCorpus()).length).toBe(CORPUS_COUNT);
  });

  it('would see a library’s words, a path or a stack in a sentence', async () => {
    const { AnalysisError } = await import('../../analysis/errors.ts');
    const fault = async (message: string) =>
      (
        await outcomeOf(() => {
          throw new AnalysisError('photo-damaged', message);
        })
      ).fault;
    expect(await fault('The photo is damaged. Send it again.')).toBeNull();
    for (const leak of [
      'VipsJpeg: premature end.',
      'Cannot open /home/someone/x.jpg.',
      'expected number, received undefined.',
      'No full stop',
      '',
    ])
      expect(await fault(leak)).not.toBeNull();
    expect((await outcomeOf(() => JSON.parse('{'))).fault).toContain('SyntaxError');
  });
});
