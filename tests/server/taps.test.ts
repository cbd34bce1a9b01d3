import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { containsPoint } from '../../analysis/locate/quadGeometry.ts';
import { runCommandLine } from '../../server/commands/commandLine.ts';
import { readingAnswer } from '../../server/contracts/answers.ts';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { DEMO_FOLDER, demoFiles, formOf, serverUnderTest } from '../helpers/serverUnderTest.ts';

const server = serverUnderTest();
const { photo, strip, marks } = demoFiles('hemp-banner-blue');
const truth = JSON.parse(marks) as {
  card: { name: string; quad: [number, number][] }[];
  steps: { quad: [number, number][] }[];
};
const middleOf = (quad: readonly [number, number][]): [number, number] => [
  quad.reduce((sum, [x]) => sum + x, 0) / 4,
  quad.reduce((sum, [, y]) => sum + y, 0) / 4,
];
const card = middleOf(truth.card[1].quad);
const cloth = middleOf(truth.steps[3].quad);
const PHOTO = join(DEMO_FOLDER, 'hemp-banner-blue.jpg');
const STRIP = join(DEMO_FOLDER, 'hemp-banner-blue.strip.json');

const sent = (taps: unknown) => {
  const form = formOf({ photo, strip });
  form.set('taps', JSON.stringify(taps));
  return server.post('/api/readings', form);
};
const refusal = async (response: Response) => ({
  status: response.status,
  code: errorAnswer.parse(await response.json()).error.code,
});

describe('POST /api/readings with taps', () => {
  test('on card and strip reads the strip under them, with nothing left to settle', async () => {
    const response = await sent({ card, strip: cloth });
    expect(response.status).toBe(200);
    const { reading } = readingAnswer.parse(await response.json());
    expect(reading.needs).toEqual([]);
    expect(containsPoint(reading.marks.card[1].quad, card)).toBe(true);
    expect(containsPoint(reading.marks.steps[3].quad, cloth)).toBe(true);
  }, 60_000);

  test('on bare table finds no card', async () => {
    expect(await refusal(await sent({ card: [3, 3] }))).toEqual({ status: 422, code: 'card-not-found' });
  }, 60_000);

  test('beside the photo, or misspelt, are refused', async () => {
    expect((await refusal(await sent({ card: [99_999, 3] }))).code).toBe('marks-outside-photo');
    expect((await refusal(await sent({ crad: [3, 3] }))).code).toBe('marks-invalid');
  }, 60_000);
});

describe('tonestep read', () => {
  const words = ['read', PHOTO, '--strip', STRIP];
  test('takes points on card and strip', async () => {
    const { exit, stdout } = await runCommandLine([
      ...words,
      '--tap-card',
      card.join(),
      '--tap-strip',
      cloth.join(' , '),
      '--json',
    ]);
    expect(exit).toBe(0);
    expect(containsPoint(JSON.parse(stdout).marks.card[1].quad, card)).toBe(true);
  }, 60_000);
  test.each(['12', '1,2,3', 'a,b', '-3,5'])('refuses the point "%s"', async (point) => {
    const { exit, stderr } = await runCommandLine([...words, `--tap-card=${point}`]);
    expect(exit).toBe(2);
    expect(stderr).toMatch(/--tap-card/);
  });
});
