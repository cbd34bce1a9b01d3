import { clock } from '../../analysis/advice/settable.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import type { Advice, Reading, Verdict } from '../contracts/reading.ts';

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  'washed-out': 'washed-out',
  building: 'building',
  'full-depth': 'full depth',
  overexposed: 'overexposed',
};

const CARD_WORDS: Readonly<Record<string, string>> = {
  'grey-18': 'one grey patch, 18 %',
  'white-grey-black': 'white, grey and black',
  'grey-scale': 'grey scale of 10 patches',
  'chart-24': 'chart of 24 colours',
  own: 'own patches',
};

const LIGHT_WORDS: Readonly<Record<Reading['illumination']['method'], string>> = {
  surround: 'evened out by the surround',
  'base-cloth': 'evened out along the base cloth',
  'card-ends': 'evened out between card patches',
  'within-patches': "evened out within the card's patches",
};

const CURVE_WORDS = {
  'build-up': 'dye build-up',
  logistic: 'logistic',
  monotone: 'smooth curve through the steps',
} as const;

/** A number for people: a true minus sign, so many decimals. */
export const figure = (value: number | null, digits: number): string =>
  value === null
    ? '–'
    : (Math.abs(value) < 0.5 * 10 ** -digits ? 0 : value).toFixed(digits).replace('-', '−');

/** The dye as the report's title, and the line under it. */
export const namesOf = ({ strip }: Reading): { readonly title: string; readonly under: string } => ({
  title: strip.dye.trim() || 'Test strip',
  under: [strip.cloth, strip.light]
    .map((name) => name.trim())
    .filter(Boolean)
    .join(' · '),
});

export const timeOf = (seconds: number): string => (seconds === 0 ? 'base' : clock(seconds));

/** The time to set, large on the paper. */
export const answerTime = ({ roundedSeconds }: Advice): string =>
  roundedSeconds === null ? 'No time' : formatClock(roundedSeconds);

export const answerInterval = ({ low, high, highOpen, widthStops }: Advice): string | null => {
  if (low === null || high === null) return null;
  const interval = highOpen ? `${clock(low)} or longer` : `${clock(low)} to ${clock(high)}`;
  const width = highOpen || widthStops === null ? '' : `, ${figure(widthStops, 2)} stops wide`;
  return `${interval} in 9 of 10 cases${width}`;
};

export const targetWords = ({ target }: Advice): string => {
  switch (target.kind) {
    case 'L':
      return `to reach L* ${figure(target.L, 1)}`;
    case 'depth':
      return `to reach ${figure(target.percent, 0)} % depth`;
    case 'full':
      return 'to get as deep as it goes';
    case 'swatch':
      return `to match the swatch L* ${figure(target.L, 1)}, a* ${figure(target.a, 1)}, b* ${figure(target.b, 1)}`;
  }
};

/** How the numbers came about: what a reader needs to judge them or get them again. */
export const methodRows = (reading: Reading): readonly (readonly [string, string])[] => {
  const { strip, tone, illumination, photo, curve, repeatability, colour, methodVersion } = reading;
  const fallOff = illumination.fallOffRatio;
  const refused = tone.patchesRefused.map(({ name, reason }) => `${name} not used: ${reason}`);
  return [
    ['Method', `version ${methodVersion}; CIELAB for D65 and 2°, relative to the card's perfect white`],
    ['Photo', `${photo.widthPx} × ${photo.heightPx} px, ${photo.format}, ${photo.profile}`],
    ...(repeatability
      ? ([
          [
            'Photos',
            `${repeatability.photos} of this strip differ by ${figure(repeatability.measuredL, 1)} L* (${figure(repeatability.expectedL, 1)} expected)`,
          ],
        ] as const)
      : []),
    [
      'Card',
      [
        `${CARD_WORDS[strip.card] ?? strip.card}, ${tone.patchesUsed} ${tone.patchesUsed === 1 ? 'patch' : 'patches'} used`,
        ...refused,
        ...(tone.relative ? ['too little contrast for absolute L*: differences count'] : []),
      ].join('; '),
    ],
    [
      'Table light',
      `${illumination.accepted ? LIGHT_WORDS[illumination.method] : 'not evened out'}${fallOff === null ? '' : `; brightest to darkest ${figure(fallOff, 2)} : 1`} (${illumination.reason})`,
    ],
    [
      'Camera',
      `slope ${figure(tone.exponent, 3)}, flare ${figure(100 * tone.flare, 2)} %${tone.leaveOneOutL === null ? '' : `; a left-out patch is met within ${figure(tone.leaveOneOutL, 1)} L*`}${colour?.applied ? '; colours set right by the chart' : ''}`,
    ],
    ...(curve.kind === 'fitted'
      ? ([
          [
            'Curve',
            [`${CURVE_WORDS[curve.curve.model]}. ${curve.curve.reason}`, ...curve.curve.remarks].join(' '),
          ],
          [
            'Figures',
            [
              `base L* ${figure(curve.curve.baseL, 1)}`,
              `deepest L* ${figure(curve.curve.deepestL, 1)}`,
              ...(curve.curve.contrastLPerStop === null
                ? []
                : [`contrast ${figure(curve.curve.contrastLPerStop, 1)} L* per stop at half depth`]),
              ...(curve.curve.exposureScaleStops === null
                ? []
                : [
                    `exposure scale ${figure(curve.curve.exposureScaleStops, 1)} stops from 10 to 90 % depth`,
                  ]),
              ...(curve.curve.secondsToFull === null
                ? []
                : [`within 1 L* of the deepest after ${clock(curve.curve.secondsToFull)}`]),
            ].join('; '),
          ],
        ] as const)
      : ([['Curve', curve.message]] as const)),
  ];
};

export const nextStripWords = ({ nextStrip }: Advice): string | null => {
  if (!nextStrip) return null;
  const { reason, expectedTogetherStops: together } = nextStrip;
  return together === null
    ? reason
    : `${reason} Read together with this strip: an interval of ${figure(together, 2)} stops.`;
};
