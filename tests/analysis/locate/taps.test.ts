import { describe, expect, it } from 'vitest';
import { AnalysisError } from '../../../analysis/errors.ts';
import type { Strip } from '../../../analysis/level/card.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { findMarks } from '../../../analysis/locate/findMarks.ts';
import type { Point, Quad } from '../../../analysis/locate/marks.ts';
import { needsOf } from '../../../analysis/locate/marksNeeds.ts';
import { placeMarks } from '../../../analysis/locate/placeMarks.ts';
import { containsPoint, overlapShare, quadCentre } from '../../../analysis/locate/quadGeometry.ts';
import { parseTaps } from '../../../analysis/locate/taps.ts';
import { grey, type Patch, painted, rowOfBoxes, turnedBox } from './paintedField.ts';
import { photoOf } from './paintedPhoto.ts';
import { stripOf } from './paintedStrip.ts';

const strip: Strip = parseStrip({
  card: 'white-grey-black',
  steps: [0, 10, 20, 40, 80, 160].map((seconds) => ({ seconds })),
});
/** White, N 5 and black side by side on a dark mount, 44 px each. */
const cardAt = (middle: Point): Patch[] => [
  { quad: turnedBox(middle, 150, 62, 0), colour: grey(0.055) },
  ...rowOfBoxes(middle, 3, 46, 44, 50, 0).map((quad, i) => ({ quad, colour: grey([0.9, 0.18, 0.035][i]) })),
];
const depths = [0, 0.12, 0.25, 0.4, 0.6, 0.85];
const placesOf = (patches: readonly Patch[]): Quad[] => patches.slice(1).map((p) => p.quad);
const onAll = (found: readonly Quad[], truth: readonly Quad[]) =>
  found.length === truth.length && found.every((quad, i) => overlapShare(quad, truth[i]) > 0.7);

const [leftCard, rightCard] = [cardAt([170, 90]), cardAt([470, 90])];
const [upper, lower] = [stripOf(depths, [320, 210], 0, 0), stripOf(depths, [320, 370], 0, 0)];
const twoOfBoth = photoOf(
  painted(640, 480, grey(0.4), [...leftCard, ...rightCard, ...upper.patches, ...lower.patches]),
);

describe('a photo with two cards and two strips', () => {
  it('asks which card', () => {
    const found = findMarks(twoOfBoth, strip);
    expect(found.kind).toBe('uncertain');
    if (found.kind !== 'uncertain') return;
    expect(found.needs[0]).toMatchObject({
      part: 'card',
      message: 'It is not sure which area is the card. Tap on the card, or set its patches by hand.',
    });
  });

  it.each([
    ['left card and the upper strip', [170, 90], [320, 210], leftCard, upper],
    ['right card and the lower strip', [470, 90], [250, 380], rightCard, lower],
    ['right card and the upper strip, at its end', [420, 100], [205, 240], rightCard, upper],
  ] as const)('is answered surely with taps on the %s', (_, card, cloth, trueCard, trueStrip) => {
    const found = findMarks(twoOfBoth, strip, { card, strip: cloth });
    expect(found.kind).toBe('found');
    if (found.kind !== 'found') return;
    expect(
      onAll(
        found.marks.card.map((m) => m.quad),
        placesOf(trueCard),
      ),
    ).toBe(true);
    expect(
      onAll(
        found.marks.steps.map((m) => m.quad),
        trueStrip.steps,
      ),
    ).toBe(true);
  });

  it('has no card where the tap meets bare table, and says so', () => {
    const found = findMarks(twoOfBoth, strip, { card: [320, 460] });
    expect(found).toMatchObject({ kind: 'not-found', what: 'card' });
    if (found.kind === 'not-found') expect(found.message).toMatch(/where you tapped/);
  });

  it('has no strip where the tap meets bare table', () => {
    const found = findMarks(twoOfBoth, strip, { card: [170, 90], strip: [600, 290] });
    expect(found).toMatchObject({ kind: 'not-found', what: 'strip' });
  });
});

describe('a grey patch among other greys', () => {
  const single = parseStrip({ card: 'grey-18', steps: strip.steps });
  const patches = [
    { quad: turnedBox([150, 90], 90, 90, 4), colour: grey(0.18) },
    { quad: turnedBox([480, 90], 90, 90, -3), colour: grey(0.19) },
  ];
  const photo = photoOf(painted(640, 480, grey(0.5), [...patches, ...lower.patches]));
  it('is the one that was tapped', () => {
    for (const { quad } of patches) {
      const found = findMarks(photo, single, { card: quadCentre(quad) });
      expect(found.kind).not.toBe('not-found');
      if (found.kind !== 'not-found')
        expect(containsPoint(quad, quadCentre(found.marks.card[0].quad))).toBe(true);
    }
  });
});

describe('needs', () => {
  const phrase = 'the steps hardly differ';
  it('name the most doubtful part first, and leave out what is hardly in doubt', () => {
    const needs = needsOf([
      { weight: 0.3, phrase, part: 'direction' },
      { weight: 0.15, phrase, part: 'card' },
      { weight: 0.5, phrase },
      { weight: 0.1, phrase, part: 'count' },
      { weight: 0.15, phrase, part: 'count' },
    ]);
    expect(needs.map(({ part }) => part)).toEqual(['strip', 'direction', 'count']);
  });
  it('name one part where many small doubts add up', () => {
    expect(
      needsOf([
        { weight: 0.19, phrase, part: 'card' },
        { weight: 0.1, phrase },
      ]).map((n) => n.part),
    ).toEqual(['card']);
  });
});

describe('taps given as JSON', () => {
  it('may name card, strip, both or neither', () => {
    expect(parseTaps({})).toEqual({});
    expect(parseTaps({ card: [1, 2], strip: [3.5, 4] })).toEqual({ card: [1, 2], strip: [3.5, 4] });
  });
  it.each([
    [null],
    [[]],
    [{ card: [1] }],
    [{ card: ['1', 2] }],
    [{ cloth: [1, 2] }],
    [{ strip: [Number.NaN, 2] }],
  ])('are refused as %j', (json) => {
    expect(() => parseTaps(json)).toThrowError(AnalysisError);
  });
  it.each([
    [{ card: [641, 10] }, /card lies outside the photo of 640 × 480/],
    [{ strip: [10, -1] }, /strip lies outside/],
  ] as const)('are refused outside the photo: %j', (taps, message) => {
    expect(() => placeMarks(twoOfBoth, strip, null, taps)).toThrowError(message);
  });
});
