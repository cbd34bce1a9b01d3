import { deltaE00 } from '../colour/difference.ts';
import type { Lab } from '../colour/lab.ts';
import { chromaOf, hueOf } from '../colour/polar.ts';
import type { Step } from './step.ts';

/** What follows from the steps' CIELAB alone. @param hasBase whether the first step had no exposure. */
export const colourOfSteps = (
  lab: readonly Lab[],
  hasBase: boolean,
): readonly Pick<Step, 'L' | 'a' | 'b' | 'chroma' | 'hue' | 'deltaEToBase' | 'deltaEToPrevious'>[] =>
  lab.map(({ L, a, b }, i) => ({
    L,
    a,
    b,
    chroma: chromaOf({ a, b }),
    hue: hueOf({ a, b }),
    deltaEToBase: hasBase ? deltaE00(lab[0], lab[i]) : null,
    deltaEToPrevious: i > 0 ? deltaE00(lab[i - 1], lab[i]) : null,
  }));
