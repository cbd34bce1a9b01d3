import { bradford } from '../colour/adaptation.ts';
import { labToXyz, type Xyz } from '../colour/lab.ts';
import { applyMatrix3 } from '../colour/matrix3.ts';
import { whiteD50, whiteD65 } from '../colour/white.ts';

/**
 * Published CIELAB (D50, 2°) of patches 1 to 18, before and after November 2014. Source: [chart-24]; blue sky's b* is
 * -21.925 in four of five copies of the earlier edition, and taken so here.
 */
const PUBLISHED: readonly (readonly [name: string, before: readonly number[], after: readonly number[]])[] = [
  ['1', [37.986, 13.555, 14.059], [37.54, 14.37, 14.92]],
  ['2', [65.711, 18.13, 17.81], [64.66, 19.27, 17.5]],
  ['3', [49.927, -4.88, -21.925], [49.32, -3.82, -22.54]],
  ['4', [43.139, -13.095, 21.905], [43.46, -12.74, 22.72]],
  ['5', [55.112, 8.844, -25.399], [54.94, 9.61, -24.79]],
  ['6', [70.719, -33.397, -0.199], [70.48, -32.26, -0.37]],
  ['7', [62.661, 36.067, 57.096], [62.73, 35.83, 56.5]],
  ['8', [40.02, 10.41, -45.964], [39.43, 10.75, -45.17]],
  ['9', [51.124, 48.239, 16.248], [50.57, 48.64, 16.67]],
  ['10', [30.325, 22.976, -21.587], [30.1, 22.54, -20.87]],
  ['11', [72.532, -23.709, 57.255], [71.77, -24.13, 58.19]],
  ['12', [71.941, 19.363, 67.857], [71.51, 18.24, 67.37]],
  ['13', [28.778, 14.179, -50.297], [28.37, 15.42, -49.8]],
  ['14', [55.261, -38.342, 31.37], [54.38, -39.72, 32.27]],
  ['15', [42.101, 53.378, 28.19], [42.43, 51.05, 28.62]],
  ['16', [81.733, 4.039, 79.819], [81.8, 2.67, 80.41]],
  ['17', [51.935, 49.986, -14.574], [50.63, 51.28, -14.12]],
  ['18', [51.038, -28.631, -28.638], [49.57, -29.71, -28.32]],
];

const d50ToD65 = bradford(whiteD50, whiteD65);

/** XYZ under D65 of a CIELAB colour given for D50. */
const adapted = ([L, a, b]: readonly number[]): Xyz => {
  const underD65 = labToXyz({ L, a, b });
  const underD50: Xyz = [
    (underD65[0] / whiteD65[0]) * whiteD50[0],
    (underD65[1] / whiteD65[1]) * whiteD50[1],
    (underD65[2] / whiteD65[2]) * whiteD50[2],
  ];
  return applyMatrix3(d50ToD65, underD50);
};

/** XYZ (D65, white at Y = 1) of the chart's 18 colours by patch name: mean of the two editions. */
export const CHART_24_COLOURS: ReadonlyMap<string, Xyz> = new Map(
  PUBLISHED.map(([name, before, after]) => [name, adapted(before.map((v, i) => (v + after[i]) / 2))]),
);
