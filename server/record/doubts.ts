import { clock } from '../../analysis/advice/settable.ts';
import { METHOD_VERSION } from '../../analysis/methodVersion.ts';
import { type Phrase, phrase } from '../../analysis/phrases.ts';
import type { Doubt, DoubtCode } from '../contracts/recordUse.ts';
import type { PrintBias } from './feedback.ts';
import { daysBetween } from './moment.ts';
import type { Moved, MovedTime } from './movedTime.ts';

/** What is known of the calibration and of today; null: not known. */
export interface Circumstances {
  readonly at: string;
  readonly lightKind: 'lamps' | 'sun';
  readonly lampHours: number | null;
  readonly sky: string | null;
  readonly batch: { readonly id: string; readonly name: string; readonly mixedAt: string } | null;
  readonly cardId: string | null;
  readonly calibration: {
    readonly exposedAt: string;
    readonly lampHours: number | null;
    readonly sky: string | null;
    readonly batch: { readonly id: string; readonly name: string; readonly mixedAt: string } | null;
    readonly cardId: string | null;
    readonly relative: boolean;
    readonly marksConfirmed: boolean;
    readonly methodVersion: string;
    readonly otherLight: boolean;
  };
  /** Exposure of the newest control scrap, whether it tells a shift, and its batch. */
  readonly newestControl: {
    readonly exposedAt: string;
    readonly told: boolean;
    readonly batchId: string | null;
    readonly lampHours: number | null;
    readonly cardKey: string | null;
  } | null;
  readonly calibrationCardKey: string;
  /** Bias of the prints made, where there is one. */
  readonly printsMissed: PrintBias | null;
}

/** Limits from which a circumstance counts. Common practice, no source. */
const LAMP_HOURS = 100;
const BATCH_DAYS = 14;
const SEASON_DAYS = 30;
const SUN_CONTROL_HOURS = 3;
const CONTROL_DAYS = 30;
const OLD_DAYS = 365;
const WIDE_STOPS = 1 / 3;
const TOO_WIDE_STOPS = 1;

const doubtOf =
  (weight: Doubt['weight']) =>
  (code: DoubtCode, message: string, said: Phrase | undefined): Doubt => ({
    code,
    weight,
    message,
    ...(said && { phrase: said }),
  });
const distrust = doubtOf('distrust');
const note = doubtOf('note');

/** Days as a person says them. */
export const ageWords = (days: number): string => {
  const whole = Math.floor(days);
  if (whole < 1) return 'today';
  if (whole === 1) return 'yesterday';
  return `${whole} days ago`;
};

const lampDoubts = (c: Circumstances, moved: Moved): Doubt[] => {
  if (c.lightKind !== 'lamps') return [];
  const controlled = moved.controls.at(-1)?.lampHours ?? null;
  const since = controlled ?? c.calibration.lampHours;
  if (c.lampHours === null || since === null)
    return moved.controls.length > 0
      ? []
      : [
          note(
            'lamp-hours-unknown',
            `${since === null ? (c.lampHours === null ? 'Lamp hours are known neither of the calibration nor of today' : 'Lamp hours of the calibration are not known') : 'What the hour meter shows today is not said'}: how much the lamps have faded since can not be told. Note them with every strip.`,
            phrase('hours-unknown', {
              of: since !== null ? 'today' : c.lampHours === null ? 'both' : 'calibration',
            }),
          ),
        ];
  const from = controlled === null ? 'calibration' : 'control';
  if (c.lampHours < since)
    return [
      distrust(
        'lamps-replaced',
        `The meter shows ${c.lampHours.toFixed(0)} h, less than the ${since.toFixed(0)} h of the ${controlled === null ? 'calibration' : 'control scrap'}: new lamps need a new strip.`,
        phrase('lamps-replaced', { hours: c.lampHours, since, from }),
      ),
    ];
  const hours = c.lampHours - since;
  return hours > LAMP_HOURS
    ? [
        distrust(
          'lamp-hours',
          `The lamps have burnt ${hours.toFixed(0)} h since the ${controlled === null ? 'calibration' : 'last control scrap'}, more than ${LAMP_HOURS} h: expose a control scrap.`,
          phrase('lamp-hours', { hours, limit: LAMP_HOURS, from }),
        ),
      ]
    : [];
};

const batchDoubts = (c: Circumstances, moved: Moved): Doubt[] => {
  const was = c.calibration.batch;
  const is = c.batch;
  if (is === null || was === null)
    return is === was
      ? [
          note(
            'batch-unknown',
            'No batch of sensitiser is noted, then or now: another batch can work at another speed.',
            phrase('batch-not-noted', {}),
          ),
        ]
      : [
          note(
            'batch-unknown',
            is === null
              ? `The calibration was made with batch "${was?.name}"; which one is used today is not said.`
              : `Today's batch is "${is.name}"; which one the calibration was made with is not noted.`,
            is === null
              ? phrase('batch-today-unknown', { was: was?.name ?? '' })
              : phrase('batch-then-unknown', { now: is.name }),
          ),
        ];
  if (was.id !== is.id) {
    const tried = moved.controls.length > 0 && c.newestControl?.batchId === is.id;
    return tried
      ? [
          note(
            'other-batch',
            `The calibration was made with batch "${was.name}"; the control scrap is of "${is.name}".`,
            phrase('batch-tried', { was: was.name, now: is.name }),
          ),
        ]
      : [
          distrust(
            'other-batch',
            `The calibration was made with batch "${was.name}", today's is "${is.name}": expose a control scrap of it.`,
            phrase('batch-untried', { was: was.name, now: is.name }),
          ),
        ];
  }
  const ageThen = daysBetween(was.mixedAt, c.calibration.exposedAt);
  const ageNow = daysBetween(is.mixedAt, c.at);
  return ageNow - ageThen > BATCH_DAYS
    ? [
        distrust(
          'batch-age',
          `Batch "${is.name}" is ${ageNow.toFixed(0)} days old and was ${Math.max(0, ageThen).toFixed(0)} when it was calibrated: sensitiser changes with age. Expose a control scrap.`,
          phrase('batch-older', {
            batch: is.name,
            daysNow: ageNow,
            daysThen: Math.max(0, ageThen),
          }),
        ),
      ]
    : [];
};

const sunDoubts = (c: Circumstances, moved: Moved): Doubt[] => {
  if (c.lightKind !== 'sun') return [];
  const control = moved.controls.at(-1);
  const fresh = control && daysBetween(control.exposedAt, c.at) * 24 <= SUN_CONTROL_HOURS;
  if (fresh)
    return [
      note(
        'sun',
        'The sun does not hold still: keep a control scrap beside the work and go by it.',
        phrase('sun-moves', {}),
      ),
    ];
  const days = daysBetween(c.calibration.exposedAt, c.at);
  return [
    distrust(
      'sun',
      `A time in the sun does not repeat: expose a control scrap first, within ${SUN_CONTROL_HOURS} hours of the work.`,
      phrase('sun-first', { hours: SUN_CONTROL_HOURS }),
    ),
    ...(days > SEASON_DAYS
      ? [
          distrust(
            'season',
            `The calibration is ${days.toFixed(0)} days old; the sun stands at another height now.`,
            phrase('season-changed', { days }),
          ),
        ]
      : []),
    ...(moved.by === 'sky'
      ? [note('sky', moved.sentence, moved.phrase)]
      : c.sky !== null && c.calibration.sky === null
        ? [
            note(
              'sky',
              'The sky of the calibration is not noted, so the time is not moved for it.',
              phrase('sky-not-noted', {}),
            ),
          ]
        : []),
  ];
};

const controlDoubts = (c: Circumstances, moved: Moved): Doubt[] => {
  const doubts = moved.warnings.map((w) => distrust('control-warning', w.message, w.phrase));
  if (moved.drift?.kind === 'chart' && moved.drift.verdict === 'jump')
    doubts.push(distrust('control-jump', moved.drift.sentence, moved.drift.phrase));
  if (c.newestControl && !c.newestControl.told)
    doubts.push(
      distrust(
        'control-unusable',
        'The newest control scrap is too pale or too deep to tell anything. Expose another.',
        phrase('control-untold', {}),
      ),
    );
  const newest = moved.controls.at(-1);
  if (newest && c.lightKind === 'lamps' && daysBetween(newest.exposedAt, c.at) > CONTROL_DAYS)
    doubts.push(
      note(
        'control-old',
        `The newest control scrap was exposed ${ageWords(daysBetween(newest.exposedAt, c.at))}.`,
        phrase('control-days', { days: daysBetween(newest.exposedAt, c.at) }),
      ),
    );
  const otherCard =
    (c.cardId !== null && c.calibration.cardId !== null && c.cardId !== c.calibration.cardId) ||
    (newest !== undefined &&
      c.newestControl?.cardKey != null &&
      c.newestControl.cardKey !== c.calibrationCardKey);
  if (otherCard)
    doubts.push(
      distrust(
        'other-card',
        'The calibration was read beside another card: cards differ, and 1 % in their value moves L* by about one. Read one strip beside both.',
        phrase('card-changed', {}),
      ),
    );
  return doubts;
};

const calibrationDoubts = ({ calibration, at }: Circumstances): Doubt[] => {
  const days = daysBetween(calibration.exposedAt, at);
  return [
    ...(calibration.otherLight
      ? [
          note(
            'other-light',
            'There is no calibration under this light: the time comes from another light, moved by a control scrap under this one.',
            phrase('light-borrowed', {}),
          ),
        ]
      : []),
    ...(calibration.relative
      ? [
          distrust(
            'relative',
            'The calibration was read against a card of little contrast: its depths hold against itself only. Photograph the strip again beside a card with white and black.',
            phrase('calibration-relative', {}),
          ),
        ]
      : []),
    ...(calibration.marksConfirmed
      ? []
      : [
          distrust(
            'marks-unconfirmed',
            'The marks of the calibration were found with low confidence and nobody has looked at them. Open it and check them.',
            phrase('calibration-unconfirmed', {}),
          ),
        ]),
    ...(calibration.methodVersion === METHOD_VERSION
      ? []
      : [
          note(
            'other-method',
            `The calibration was read by method ${calibration.methodVersion}; this is ${METHOD_VERSION}. Its photo is kept: read it again.`,
            phrase('method-changed', { was: calibration.methodVersion, now: METHOD_VERSION }),
          ),
        ]),
    ...(days > OLD_DAYS
      ? [
          distrust(
            'old',
            `The calibration is ${days.toFixed(0)} days old.`,
            phrase('calibration-old', { days }),
          ),
        ]
      : []),
  ];
};

const timeDoubts = (time: MovedTime): Doubt[] => {
  if (time.kind !== 'time') return [];
  const stops = time.low > 0 ? Math.log2(time.high / time.low) : Number.POSITIVE_INFINITY;
  return [
    ...(time.onStrip
      ? []
      : [
          distrust(
            'off-strip',
            `The time lies beyond the calibration's steps, where nothing was tested: make a strip with longer steps, up to ${clock(2 * time.seconds)}.`,
            phrase('beyond-steps', { seconds: 2 * time.seconds }),
          ),
        ]),
    ...(time.highOpen || stops > WIDE_STOPS
      ? [
          (time.highOpen || stops > TOO_WIDE_STOPS ? distrust : note)(
            'wide',
            Number.isFinite(stops) && !time.highOpen
              ? `The interval is ${stops.toFixed(2)} stop wide: another strip around this time narrows it.`
              : 'How long it could take has no upper end within what the strip tells: another strip with longer steps gives it one.',
            Number.isFinite(stops) && !time.highOpen
              ? phrase('interval-wide', { stops })
              : phrase('interval-open', {}),
          ),
        ]
      : []),
  ];
};

const printDoubts = (bias: PrintBias | null): Doubt[] => {
  if (bias === null) return [];
  if (bias.by === 'eye') {
    const { count, of, side } = bias;
    return [
      distrust(
        'prints-missed',
        `${count} of ${of} prints judged by eye came out ${side} than promised: make a new strip.`,
        phrase('prints-judged', { count, of, side }),
      ),
    ];
  }
  const { count, stops } = bias;
  return [
    distrust(
      'prints-missed',
      `${count} prints came out ${Math.abs(stops).toFixed(2)} stop ${stops > 0 ? 'deeper' : 'paler'} than predicted on average: make a new strip.`,
      phrase('prints-missed', { count, stops }),
    ),
  ];
};

/** Why should this time not be trusted as it stands? Worst first. */
export const doubtsOf = (c: Circumstances, moved: Moved, time: MovedTime): Doubt[] => {
  const all = [
    ...calibrationDoubts(c),
    ...lampDoubts(c, moved),
    ...batchDoubts(c, moved),
    ...sunDoubts(c, moved),
    ...controlDoubts(c, moved),
    ...timeDoubts(time),
    ...printDoubts(c.printsMissed),
  ];
  return [...all.filter((d) => d.weight === 'distrust'), ...all.filter((d) => d.weight === 'note')];
};
