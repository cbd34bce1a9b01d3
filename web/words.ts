import { CAUTIONS } from '../analysis/plan/cautions.ts';
import type { ErrorCode } from '../server/contracts/errors.ts';
import type { Curve, Illumination, Verdict } from '../server/contracts/reading.ts';
import type { CardKind } from '../server/contracts/strip.ts';
import type { Spacing } from './series.ts';

/** What happened, and what to do next. */
export interface Explanation {
  readonly what: string;
  readonly next: string;
}

/** Errors that only the page can meet: the server is gone, or its answer makes no sense. */
export type PageErrorCode = 'server-gone' | 'answer-unreadable';

const english = {
  language: 'en',
  title: 'Tonestep',
  purpose: 'From a photo of your test strip to the exposure time',

  frame: {
    skip: 'Skip to the content',
    readAStrip: 'Read a strip',
    back: 'Back',
    backToReading: 'Back to the reading',
    demos: 'Demo strips',
    yourStrip: 'Your strip',
    toDark: 'Dark',
    toLight: 'Light',
    themeLabel: 'Switch the page to',
    opening: 'Reading the demo strip…',
    dropHere: 'Let go to read this photo',
    tryAgain: 'Try again',
  },

  answer: {
    heading: 'The answer',
    expose: 'Expose for',
    goalFull: 'as deep as it goes',
    goalL: (L: string) => `L* ${L}`,
    goalDepth: (percent: string) => `${percent} % depth`,
    goalSwatch: 'the colour of the swatch',
    interval: (low: string, high: string) => `${low} to ${high}`,
    intervalNote: 'in 9 of 10 cases',
    openInterval: (low: string) => `${low} or longer`,
    noTime: 'No time',
    status: {
      inside: '',
      beyond: 'Beyond the strip',
      unattainable: 'This dye does not get there',
      'too-few-steps': 'Too few steps',
    },
    blank: 'Blank strip',
    swatch: 'The colour this time gives',
    doubt: 'Check the marks in the photo first: they were not found surely.',
    scrap: 'A starting point measured from one photo: test on a scrap before an expensive piece.',
  },

  target: {
    heading: 'How deep?',
    full: 'As deep as it goes',
    depth: (percent: number) => `${percent} %`,
    depthLabel: (percent: number) => `${percent} % depth`,
    slider: 'Target depth',
    sliderText: (L: string, depth: string, time: string) => `L* ${L}, ${depth} % depth, ${time}`,
    sliderNoTime: 'no time',
    lighter: 'Lighter',
    deeper: 'Deeper',
    aimHere: (time: string) => `Aim here: as deep as the ${time} step`,
    aimShort: 'Aim here',
  },

  stage: {
    heading: 'Strip and curve',
    plotLabel: (dye: string, cloth: string) => `L* against exposure time: ${dye} on ${cloth}`,
    lightness: 'L*',
    base: 'base',
    unexposed: 'unexposed',
    barsNote:
      'Bars: 90 % of each reading. Hatched: 90 % interval of the answer. Broken line: past the longest step.',
    saveDrawing: 'Save the curve (SVG)',
    saveReading: 'Save the reading (JSON)',
    model: {
      'build-up': 'Dye build-up curve',
      logistic: 'Logistic curve',
      monotone: 'Smooth curve through the steps',
    } satisfies Record<Curve['model'], string>,
  },

  steps: {
    heading: 'Steps',
    time: 'Time',
    lightness: 'L*',
    colour: 'Colour',
    verdict: 'Verdict',
    aim: 'Target',
    plusMinus: (u: string) => `± ${u}`,
    uncertaintyNote: '± one standard uncertainty',
    detail: (chroma: string, deltaE: string | null, density: string) =>
      deltaE === null
        ? `C* ${chroma} · density ${density}`
        : `ΔE00 to base ${deltaE} · C* ${chroma} · density ${density}`,
    verdictWord: {
      'washed-out': 'washed-out',
      building: 'building',
      'full-depth': 'full depth',
      overexposed: 'overexposed',
    } satisfies Record<Verdict, string>,
  },

  photo: {
    heading: 'What was found',
    alt: 'The photographed strip, with the areas that were read drawn over it',
    correct: 'Correct by hand',
    placeByHand: 'Place the marks by hand',
    stop: 'Leave as it was',
    readAgain: 'Read again with these marks',
    choose: 'Move',
    wholeStrip: 'Whole strip',
    wholeCard: 'Whole card',
    step: (number: number, time: string) => `Step ${number}, ${time}`,
    patch: (name: string) => `Card: ${name}`,
    corner: (number: number, of: string) => `Corner ${number} of ${of}`,
    middle: (of: string) => `All of ${of}`,
    turnStrip: 'Turn step order',
    turnCard: 'Turn card order',
    help: 'Drag the round handles; arrow keys move them too. Keep seams and shadow edges outside.',
    crossed: 'These corners cross: pull them apart before reading.',
    sizes: (width: number, height: number, format: string) => `${width} × ${height} px, ${format}`,
  },

  next: {
    heading: 'Next strip',
    use: 'Use these times',
    expected: (stops: string) => `Alone it should leave an interval of ${stops} stops.`,
    together: (stops: string) => `Read together with this strip: ${stops} stops.`,
    times: 'Times of the next strip',
  },

  notes: {
    heading: 'What to know about this reading',
    none: 'Nothing stands against this reading.',
    illumination: {
      surround: 'Table light evened out by the surround',
      'base-cloth': 'Table light evened out along the base cloth',
      'card-ends': 'Table light evened out between card patches',
      'within-patches': 'Table light evened out within the card’s patches',
    } satisfies Record<Illumination['method'], string>,
    fallOff: (percent: string) => `${percent} % fall-off across card and strip`,
    tone: (patches: number, exponent: string, flare: string) =>
      `Camera tone from ${patches} card ${patches === 1 ? 'patch' : 'patches'}: slope ${exponent}, flare ${flare} %`,
    leaveOneOut: (L: string) => `left-out patch is met within ${L} L*`,
    relative: 'One patch only: differences within this photo count, absolute L* is rough.',
    refusedPatch: (name: string) => `Card patch ${name} not used`,
    curve: 'Curve',
    method: (version: string) => `Method ${version}`,
  },

  form: {
    heading: 'Read a strip',
    photo: 'Photo',
    choose: 'Choose a photo',
    take: 'Take a photo',
    drop: 'or drop it anywhere on this page',
    replace: 'Another photo',
    photoTips:
      'Dry, flat, card beside the strip in the same light, no flash, no sun patches, phone held square. JPEG, HEIC, PNG, WebP, TIFF or AVIF.',
    opening: 'Opening the photo…',
    ready: (name: string, size: string) => `${name} · ${size}`,
    preview: 'The chosen photo',
    card: 'Card in the photo',
    cardName: {
      'grey-18': 'One grey patch, 18 %',
      'white-grey-black': 'White, grey and black',
      'grey-scale': 'Grey scale, 10 patches',
      'chart-24': 'Chart of 24 colours',
      own: 'My own patches',
    } satisfies Record<CardKind | 'own', string>,
    cardHint: {
      'grey-18': 'Rough: L* is only good within this photo.',
      'white-grey-black': 'Reflectance 90, 18 and 3.5 %.',
      'grey-scale': 'Density 0.05 to 1.85 in steps of 0.20.',
      'chart-24': 'Its neutral row, patches 19 to 24, is used.',
      own: 'Neutral patches of known Y (0 to 1), L* or density.',
    } satisfies Record<CardKind | 'own', string>,
    patchName: 'Name',
    patchMeasure: 'Given as',
    patchValue: 'Value',
    measures: { Y: 'Y', L: 'L*', density: 'Density' },
    patchRow: (number: number) => `Patch ${number}`,
    addPatch: 'Add a patch',
    removePatch: (number: number) => `Remove patch ${number}`,
    patchProblem: {
      name: 'Give every patch a name of its own.',
      Y: 'Y is a number from 0.002 to 1: 18 % is 0.18.',
      L: 'L* is a number from 2 to 100.',
      density: 'Density is a number from 0 to 2.7.',
      none: 'Add at least one patch.',
    },
    times: 'Exposure times',
    timesLabel: 'All steps, unexposed base as 0',
    timesHint: 'As 0:45, 90 s or 1.5 min, parted by commas.',
    timesUnderstood: (count: number) =>
      count === 1 ? 'Understood as 1 step:' : `Understood as ${count} steps:`,
    timesProblem: (text: string) => `“${text}” is no time. Write 1:30, 90 s or 1.5 min.`,
    timesNone: 'Write the time of every step.',
    timesMany: 'More than 60 steps: a strip has fewer.',
    series: 'Fill in a series',
    seriesFirst: 'First time',
    seriesCount: 'Steps',
    seriesSpacing: 'Each step',
    spacing: {
      'whole-stop': 'one stop more (× 2)',
      'half-stop': 'half a stop more (× 1.41)',
      'third-stop': 'a third more (× 1.26)',
      'equal-times': 'the same time again',
    } satisfies Record<Spacing, string>,
    seriesBase: 'with an unexposed base',
    seriesFill: 'Fill in',
    seriesProblem: 'The first time must be above zero.',
    names: 'Names',
    dye: 'Dye',
    cloth: 'Cloth',
    light: 'Light',
    read: 'Read the strip',
    reading: 'Reading the strip',
    readingFor: (seconds: string) => `${seconds} s`,
    cancel: 'Stop',
    noPhoto: 'Choose or take a photo first.',
    marksForget: 'Find them automatically instead',
  },

  problem: {
    heading: 'That did not work',
    kept: 'Everything you entered is still here.',
    details: 'In detail',
  },

  cautions: {
    heading: 'Take care',
    list: CAUTIONS.map(({ text }) => text),
  },

  errors: {
    'photo-unreadable': {
      what: 'This file is no photo that can be opened.',
      next: 'Choose the photo itself: JPEG, HEIC, PNG, WebP, TIFF or AVIF.',
    },
    'photo-damaged': {
      what: 'The photo file is damaged or breaks off.',
      next: 'Copy it from the phone again, or take the photo anew.',
    },
    'photo-format-unsupported': {
      what: 'This kind of file can’t be read.',
      next: 'Save the photo as JPEG, PNG or TIFF and choose it again.',
    },
    'photo-too-large': {
      what: 'The photo has too many pixels.',
      next: 'Save it smaller: 12 megapixels are plenty.',
    },
    'photo-too-small': {
      what: 'The photo has too few pixels to tell steps apart.',
      next: 'Send the original from the phone, not a thumbnail or a screenshot.',
    },
    'profile-unsupported': {
      what: 'The photo’s colour profile can’t be used.',
      next: 'Save the photo with an sRGB or Display P3 profile and choose it again.',
    },
    'strip-invalid': {
      what: 'The description of the strip doesn’t fit.',
      next: 'Check the exposure times: every step once, none negative.',
    },
    'card-invalid': {
      what: 'The card’s values don’t fit.',
      next: 'Check the patches: a name of its own and one sensible value for each.',
    },
    'marks-invalid': {
      what: 'The marks do not make proper areas.',
      next: 'Pull crossed corners apart, then read again.',
    },
    'marks-outside-photo': {
      what: 'A mark lies outside the photo.',
      next: 'Move every corner inside the picture, then read again.',
    },
    'marks-too-small': {
      what: 'A mark is too small to read.',
      next: 'Make it larger, or photograph the strip from nearer.',
    },
    'card-not-found': {
      what: 'The card was not found in the photo.',
      next: 'Check that the right card is chosen. Then place the marks by hand, or photograph card and strip on a plain surround.',
    },
    'strip-not-found': {
      what: 'The strip was not found in the photo.',
      next: 'Check that every step’s time is listed. Then place the marks by hand, or photograph the strip on a plain surround.',
    },
    'card-unusable': {
      what: 'The card can’t be used in this photo.',
      next: 'Photograph it again without glare or shadow on the card, a little darker if it is burnt out.',
    },
    'target-invalid': {
      what: 'That target can’t be used.',
      next: 'Choose an L* between 0 and 100 or a depth up to 100 %.',
    },
    'plan-invalid': {
      what: 'That series can’t be made.',
      next: 'Check the first time and the number of steps.',
    },
    'comparison-invalid': {
      what: 'These strips can’t be compared.',
      next: 'Compare strips of one cloth that each have a curve.',
    },
    'request-invalid': {
      what: 'The photo did not arrive whole.',
      next: 'Send it once more.',
    },
    'upload-too-large': {
      what: 'The file is larger than 60 MB.',
      next: 'Save the photo as JPEG or smaller, then choose it again.',
    },
    busy: {
      what: 'Other photos are being read just now.',
      next: 'Wait a few seconds, then read again.',
    },
    'timed-out': {
      what: 'Reading took too long and was stopped.',
      next: 'Save the photo smaller (12 megapixels are plenty) and read again.',
    },
    'host-refused': {
      what: 'The page was opened by an address that the server does not answer to.',
      next: 'Open the address that was printed when Tonestep started.',
    },
    'origin-refused': {
      what: 'The server takes photos only from its own page.',
      next: 'Open the address that was printed when Tonestep started.',
    },
    'pairing-needed': {
      what: 'This phone is not paired with the computer.',
      next: 'Choose "Phone" on the computer’s page, then scan the picture there or type its code.',
    },
    'pairing-refused': {
      what: 'That code is wrong, used up or too old.',
      next: 'Ask for a new code on the computer’s page and use it within five minutes.',
    },
    'pairing-limited': {
      what: 'Too many codes were tried.',
      next: 'Wait a minute, then type the code that the computer shows now.',
    },
    'pairing-full': {
      what: 'As many phones as Tonestep takes are paired already.',
      next: 'End a phone on the computer’s page, then pair this one.',
    },
    'lan-off': {
      what: 'Phones can’t reach this computer yet: Tonestep keeps to itself unless it is told otherwise.',
      next: 'Stop Tonestep and start it with: npm start -- --lan',
    },
    'inbox-full': {
      what: 'There is no room for another photo; this one was not kept.',
      next: 'Take photos out of the inbox on the computer, then send this one again.',
    },
    'disk-full': {
      what: 'The disk is full; nothing was kept and nothing is lost.',
      next: 'Make room on the disk that holds the book, then keep it again.',
    },
    'book-read-only': {
      what: 'The book can’t be written: its folder is read-only.',
      next: 'Make the data folder writable for you, or choose another with TONESTEP_DATA; then try again.',
    },
    'book-busy': {
      what: 'Another program is writing in the book.',
      next: 'Try again in a few seconds.',
    },
    'book-unavailable': {
      what: 'The book can’t be opened.',
      next: 'Look at what the server printed when it started, put that right, then try again.',
    },
    'book-conflict': {
      what: 'This does not go with what the book says already.',
      next: 'Look at the message, choose another name or reload the page, then try again.',
    },
    'book-incomplete': {
      what: 'Something is missing to find this again in the book.',
      next: 'Name dye, cloth and light, then keep it.',
    },
    'marks-unconfirmed': {
      what: 'The marks were not found surely, so the reading is not kept yet.',
      next: 'Look at the marks in the photo, set them where they are off, and say that they are right.',
    },
    'no-calibration': {
      what: 'The book has no calibration for this dye, cloth and light.',
      next: 'Keep a test strip of them first.',
    },
    'photo-lost': {
      what: 'The photo of this reading is no longer in the data folder.',
      next: 'Bring the photos folder back from a backup, then try again.',
    },
    'not-found': {
      what: 'What was asked for is not there.',
      next: 'Reload the page.',
    },
    internal: {
      what: 'Something went wrong inside Tonestep.',
      next: 'Read again. If it fails once more, try another photo and report it with this one.',
    },
    'server-gone': {
      what: 'Tonestep’s server does not answer.',
      next: 'Check that it is still running (npm start), then try again.',
    },
    'answer-unreadable': {
      what: 'The server’s answer makes no sense to this page.',
      next: 'Reload the page: the server may have been renewed.',
    },
  } satisfies Record<ErrorCode | PageErrorCode, Explanation>,
} as const;

/** Literal sentences become strings, so that a second language fits the same shape. */
type Widened<T> = T extends string
  ? string
  : T extends (...given: infer Given) => unknown
    ? (...given: Given) => string
    : { readonly [K in keyof T]: Widened<T[K]> };

/** All words of the page. A further language is a value of this type. */
export type Words = Widened<typeof english>;

export const words: Words = english;
