import { clock } from '../../analysis/advice/settable.ts';
import { labToXyz } from '../../analysis/colour/lab.ts';
import { labToLabD50, labToXyzD50 } from '../../analysis/colour/labD50.ts';
import type { Reading, StepReading } from '../contracts/reading.ts';

export type CgatsWhite = 'D65' | 'D50';

export interface CgatsOptions {
  /** Day on which the file is made, as 2025-06-30. */
  readonly created: string;
  /** Which program and version made it. */
  readonly originator: string;
  /** White of the CIELAB and XYZ numbers: D65, as everything in a reading, or D50 for programs of the printing trade. */
  readonly white?: CgatsWhite;
}

const LONGEST_TEXT = 200;

/**
 * Text between double quotes. The standard's readers part on quotes and line ends inside a text, so neither is written:
 * a double quote becomes two single ones, a line end a blank. Other letters than ASCII's stay, as UTF-8.
 */
const quoted = (text: string): string => {
  const oneLine = text.replace(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
  const letters = [...oneLine.replaceAll('"', "''")];
  return `"${letters.length > LONGEST_TEXT ? `${letters.slice(0, LONGEST_TEXT - 1).join('')}…` : letters.join('')}"`;
};

type Field = readonly [name: string, value: (step: StepReading, number: number) => string];

const decimals =
  (digits: number, of: (step: StepReading) => number) =>
  (step: StepReading): string =>
    (of(step) + 0).toFixed(digits);

/** Fields that the standard does not know and every file declares. */
const OWN_FIELDS = ['EXPOSURE_SECONDS', 'U_LAB_L', 'VERDICT'];

const fieldsFor = (white: CgatsWhite): readonly Field[] => {
  const lab = white === 'D65' ? (step: StepReading) => step : labToLabD50;
  const xyz = (step: StepReading) => (white === 'D65' ? labToXyz(step) : labToXyzD50(step));
  return [
    ['SAMPLE_ID', (_, number) => String(number)],
    ['SAMPLE_NAME', ({ seconds }) => quoted(seconds === 0 ? 'base' : clock(seconds))],
    ['EXPOSURE_SECONDS', ({ seconds }) => String(seconds)],
    ['LAB_L', decimals(4, (step) => lab(step).L)],
    ['LAB_A', decimals(4, (step) => lab(step).a)],
    ['LAB_B', decimals(4, (step) => lab(step).b)],
    ['XYZ_X', decimals(4, (step) => 100 * xyz(step)[0])],
    ['XYZ_Y', decimals(4, (step) => 100 * xyz(step)[1])],
    ['XYZ_Z', decimals(4, (step) => 100 * xyz(step)[2])],
    ['D_VIS', decimals(4, (step) => step.density)],
    ['U_LAB_L', decimals(4, (step) => step.uL)],
    ['VERDICT', ({ verdict }) => quoted(verdict)],
  ];
};

const namesOf = ({ strip }: Reading): string =>
  [strip.dye || 'dye without a name', strip.cloth, strip.light].filter(Boolean).join(', ');

/**
 * The steps of a strip as a CGATS.17 text file [CGATS.17], which colour programs open: CIELAB, XYZ (white Y = 100), visual
 * density, exposure, u(L*) and verdict. Measured from a photo, and the file says so.
 */
export const cgatsText = (reading: Reading, { created, originator, white = 'D65' }: CgatsOptions): string => {
  const fields = fieldsFor(white);
  const { strip, steps, methodVersion, photo } = reading;
  const first = steps[0]?.seconds === 0 ? 0 : 1;
  const lines = [
    'CGATS.17',
    `ORIGINATOR ${quoted(originator)}`,
    `DESCRIPTOR ${quoted(`Test strip: ${namesOf(reading)}`)}`,
    `CREATED ${quoted(created)}`,
    `MATERIAL ${quoted(strip.cloth || 'cloth without a name')}`,
    `INSTRUMENTATION ${quoted(`Photo beside a neutral card (${strip.card}), ${photo.format}, ${photo.profile}`)}`,
    `MEASUREMENT_SOURCE ${quoted(
      `Table light of the photo, restated by the card to ${white}, 2 degree observer, relative to the perfect white`,
    )}`,
    `WEIGHTING_FUNCTION "ILLUMINANT, ${white}"`,
    'WEIGHTING_FUNCTION "OBSERVER, 2 degree"',
    `COMPUTATIONAL_PARAMETER ${quoted(`METHOD, version ${methodVersion}`)}`,
    ...(white === 'D50' ? ['COMPUTATIONAL_PARAMETER "ADAPTATION, linear Bradford from D65"'] : []),
    ...OWN_FIELDS.map((name) => `KEYWORD ${quoted(name)}`),
    `NUMBER_OF_FIELDS ${fields.length}`,
    'BEGIN_DATA_FORMAT',
    fields.map(([name]) => name).join('\t'),
    'END_DATA_FORMAT',
    `NUMBER_OF_SETS ${steps.length}`,
    'BEGIN_DATA',
    ...steps.map((step, i) => fields.map(([, value]) => value(step, i + first)).join('\t')),
    'END_DATA',
  ];
  return `${lines.join('\n')}\n`;
};
