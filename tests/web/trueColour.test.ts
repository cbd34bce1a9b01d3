import Color from 'colorjs.io';
import { describe, expect, it } from 'vitest';
import { cssColour } from '../../web/trueColour.ts';

describe('cssColour', () => {
  it.each([
    { L: 35, a: 5, b: -40 },
    { L: 92, a: -1, b: 7 },
    { L: 20, a: 0, b: 0 },
  ])('names the colour that colorjs.io has for D65 Lab $L $a $b, within 1e-4 in XYZ', ({ L, a, b }) => {
    // colorjs.io 0.7: an independent implementation of CIELAB at D65 and of the CSS colour syntax
    const shown = new Color(cssColour({ L, a, b }));
    const expected = new Color('lab-d65', [L, a, b]).to('xyz-d65');
    shown.coords.forEach((coordinate, i) => {
      expect(coordinate).toBeCloseTo(expected.coords[i] as number, 4);
    });
  });
});
