import { CAUTIONS } from '../../analysis/plan/cautions.ts';
import type { ErrorCode } from '../../server/contracts/errors.ts';
import type { Curve, Illumination, Verdict } from '../../server/contracts/reading.ts';
import type { CardKind } from '../../server/contracts/strip.ts';
import type { Spacing } from '../series.ts';
import type { CautionKey, Explanation, NoteCode, PageErrorCode, WarningCode } from './codes.ts';

/** All words of the page in English; the other languages have the shape of this value. */
export const english = {
  language: 'en',
  title: 'Tonestep',
  purpose: 'From a photo of your test strip to the exposure time',

  frame: {
    skip: 'Skip to the content',
    label: 'Parts of Tonestep',
    plan: 'Plan',
    run: 'Expose',
    read: 'Read',
    answer: 'Answer',
    book: 'Book',
    settings: 'Settings',
    strips: 'Strip on show',
    ownStrips: 'Your strips',
    demos: 'Demo strips',
    yourStrip: 'Your strip',
    demo: 'Demo',
    toDark: 'Dark',
    toLight: 'Light',
    themeLabel: 'Switch the page to',
    opening: 'Reading the demo strip…',
    loading: 'Opening…',
    dropHere: 'Let go to read this photo',
    tryAgain: 'Try again',
    running: 'The clock is running',
    backToClock: 'To the clock',
    undo: 'Undo',
    inEnglish: 'In detail, in English',
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
      'count-differs': 'Another number of steps than times',
    },
    blank: 'Blank strip',
    countDiffers: 'Another number of steps',
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
    minutes: 'min:s',
    stops: 'stops',
    saveDrawing: 'Save the curve (SVG)',
    savePicture: 'Save the curve (PNG)',
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
    legend: 'What the signs mean',
    legendOf: {
      'washed-out': 'Empty vat: not to be told from the base, or below 10 % depth.',
      building: 'Half full: more light still gives more depth.',
      'full-depth': 'Full: within 1 L* of the deepest.',
      overexposed: 'Running over: at full depth for more than half a stop already, or paler again.',
    } satisfies Record<Verdict, string>,
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
    plan: 'Plan this strip',
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
    fromRun: 'The times are those of your last run, as they really were.',
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
    timesHint: 'As 0:45, 90 s, 1.5 min, or +1/2 stop on the one before; parted by commas.',
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

  stops: (amount: string, one: boolean) => `${amount} ${one ? 'stop' : 'stops'}`,

  sentences: {
    full: (L: string) => `full depth (L* ${L}, within 1 of the deepest)`,
    depth: (percent: string, L: string) => `${percent} % depth (L* ${L})`,
    lightness: (L: string) => `L* ${L}`,
    swatch: (L: string) => `the swatch (nearest at L* ${L})`,
    expose: (time: string, target: string, L: string, depth: string) =>
      `Expose for ${time} to get ${target}: that gives L* ${L}, ${depth} % depth.`,
    between: (low: string, high: string) =>
      `Nine times in ten the right time lies between ${low} and ${high}.`,
    orLonger: (low: string) =>
      `Nine times in ten the right time is ${low} or longer; how much longer this strip can’t tell.`,
    shorterThanShortest: (time: string) =>
      `It is shorter than the shortest step, ${time}, where the strip says little.`,
    stripBegins: (time: string, target: string) =>
      `The strip begins at ${time}, already deeper than ${target}.`,
    stripEnds: (time: string, target: string) => `The strip ends at ${time}, before ${target}.`,
    about: (time: string) =>
      `By the curve it takes about ${time}, which no step has tested: make the next strip before you trust it.`,
    tooFar: 'It lies more than a stop away from any step, so there is no time to give: make the next strip.',
    lighterThanCloth: (target: string, L: string) =>
      `No exposure gives ${target}: it is lighter than the unexposed cloth, L* ${L}.`,
    neverArrives: (target: string) =>
      `The curve nears ${target} but never quite arrives: ask for as deep as it goes, which is within 1 L* of the deepest, or for less.`,
    deeperThanDye: (target: string, L: string, u: string | null) =>
      `This dye does not come to ${target} on this cloth: its deepest is L* ${L}${u === null ? '' : ` ± ${u}`}. Choose a lighter target or a stronger bath.`,
    swatchAway: (deltaE: string) => `The swatch stays ΔE00 ${deltaE} away at best.`,
    tooFewSteps:
      'A curve needs an unexposed base and two exposed steps at least. Make the next strip with more steps.',
    blankStrip:
      'No step can be told from the base. Check the light source first: the right lamp, close enough, and nothing in between that stops ultraviolet.',
    countDiffers:
      'The photo shows another number of steps than there are times, so no step can be given its time. Correct the times or set the marks by hand, then read again.',
    base: (L: string) => `This is the unexposed base, L* ${L}: what the steps are compared with.`,
    notTold: (deltaE: string, least: string) =>
      `It differs from the base by ΔE00 ${deltaE}, less than ${least}: it can’t be told apart.`,
    withinUncertainty: (deltaE: string, u: string) =>
      `It differs from the base by ΔE00 ${deltaE}, less than twice its uncertainty of ${u}.`,
    noBase: (L: string) =>
      `Its L* is ${L}; without a base and more steps nothing says how near that is to full depth.`,
    noCurve: (deltaE: string) =>
      `It differs from the base by ΔE00 ${deltaE}; too few steps to say how near that is to full depth.`,
    reversed: (L: string, deepest: string) =>
      `At L* ${L} it is lighter again than the deepest, L* ${deepest}: more light takes depth away.`,
    pale: (depth: string) => `It has ${depth} % of the depth attainable, less than 10 %.`,
    building: (depth: string, short: string, deepest: string) =>
      `It has ${depth} % of the depth attainable and is ${short} L* short of the deepest, L* ${deepest}.`,
    over: (time: string, stops: string) =>
      `Full depth is reached at ${time}, ${stops} stops earlier: more light only opens up the protected areas and the edges.`,
    deepest: (deepest: string) => `Within 1 L* of the deepest attainable, L* ${deepest}.`,
    nextStrip: (count: number) => `An unexposed piece and ${count} steps.`,
  },

  plan: {
    heading: 'Plan a strip',
    know: 'What do you know already?',
    start: {
      nothing: 'Nothing yet',
      maker: 'A maker’s time',
      around: 'A guess of my own',
      curve: 'An earlier reading',
      times: 'My own list of times',
    },
    startHint: {
      nothing: 'A wide strip finds the curve.',
      maker: 'The time on the bottle or the sheet.',
      around: 'Steps to both sides of it.',
      curve: 'The strip that tells most about the depth you want.',
      times: 'Just these.',
    },
    first: 'Shortest time',
    makerTime: 'Maker’s time',
    madeFor: 'It is meant for',
    madeForSky: 'under a sky that is',
    sky: 'Your sky today',
    guess: 'Your guess',
    apart: 'Steps apart (stops)',
    count: 'Exposed steps',
    usual: 'as usual',
    times: 'Times',
    reading: 'Reading',
    depth: 'Depth wanted',
    depthFull: 'as deep as it goes',
    noReading: 'There is no reading with a curve yet. Read a strip first, or choose another start.',
    light: 'Light',
    lights: {
      tubes: 'ultraviolet tubes',
      led: 'ultraviolet LEDs',
      sun: 'the sun',
      other: 'another light',
    },
    skies: {
      clear: 'clear',
      scattered: 'a few clouds',
      broken: 'many clouds',
      overcast: 'overcast',
    },
    layout: 'How the steps get their light',
    layouts: {
      covering: 'One strip, the cover moves on over it',
      uncovering: 'One strip, the cover draws back',
      together: 'Scraps under one light, taken out in turn',
      'in-turn': 'Scraps one after another',
    },
    lampOff: 'The light goes off for every move',
    base: 'with an unexposed base',
    timerStep: 'Smallest step of the timer (s)',
    more: 'Timer and base',
    names: 'What is exposed',
    name: 'Name on the labels',
    made: 'The strip',
    problem: 'This can’t be planned yet',
    toFill: 'Fill in what you know: the strip appears here.',
    noTime: (text: string) => `“${text}” is no time. Write 1:30, 90 s or 1.5 min.`,
    noStops: (text: string) => `“${text}” is no number of stops. Write 1, 1/2 or 0.5.`,
    noTimerStep: 'The timer’s step is a number of seconds from 0.01 to 600.',
    series: 'Steps',
    step: 'Step',
    time: 'Time',
    above: 'Above the shortest',
    label: 'Write beside it',
    moves: 'Moves',
    clock: 'Clock',
    toDo: 'What to do',
    evenly: (count: number, stops: string, first: string, last: string) =>
      `${count} exposed steps, ${stops} apart, from ${first} to ${last}.`,
    unevenly: (count: number, first: string, last: string) =>
      `${count} exposed steps from ${first} to ${last}.`,
    lampTime: (clock: string) => `The light burns for ${clock} in all.`,
    places: (order: string) => `Order on the bed: ${order}.`,
    warnings: 'Mind',
    notes: 'Good to know',
    toRun: 'To the clock',
    toRunWhileRunning: 'A strip is being exposed. Finish it before another takes its place.',
    toRead: 'Read it with these times',
    print: 'Print this plan',
    sheet: 'Measuring sheet (PDF)',
    sheetA4: 'Measuring sheet A4 (PDF)',
    sheetLetter: 'Measuring sheet Letter (PDF)',
    sheetNote: 'Lay strip and card on it: the photo then finds everything by itself.',
  },

  moves: {
    onCovering: (base: boolean) =>
      base ? 'Base covered, all steps open: light on.' : 'All steps open: light on.',
    onUncovering: (step: number) => `Only step ${step} open, the rest covered: light on.`,
    onTogether: (base: boolean) =>
      base ? 'All scraps under the lamp, base left out: light on.' : 'All scraps under the lamp: light on.',
    onInTurn: 'Scrap 1 under the lamp: light on.',
    cover: (step: number) => `Slide the cover over step ${step}.`,
    uncover: (step: number) => `Draw the cover back to open step ${step}.`,
    takeOut: (step: number) => `Take out scrap ${step} and put it in the dark.`,
    change: (step: number, time: string) => `Change to scrap ${step}, same place: ${time} more.`,
    offCovering: (step: number) => `Light off: step ${step} is done.`,
    offUncovering: (base: boolean) =>
      base ? 'Light off: all steps are done, the base stayed covered.' : 'Light off: all steps are done.',
    offScrap: (step: number) => `Light off: scrap ${step} is done.`,
  },

  run: {
    heading: 'Expose',
    empty: 'No strip is planned yet.',
    emptyNext: 'Plan one: the clock then says when the cover moves.',
    toPlan: 'Plan a strip',
    phase: {
      ready: 'Ready',
      wait: 'Wait',
      soon: 'Get ready',
      now: 'Now',
      dark: 'Light is off',
      missed: 'A move was missed',
      done: 'Done',
    },
    start: 'Light on: start',
    startNote: 'Tap in the moment the light goes on.',
    until: 'until then',
    untilEnd: 'until the light goes off',
    next: (text: string) => `Next: ${text}`,
    lampClock: (now: string, of: string) => `Light so far ${now} of ${of}`,
    litFor: (clock: string) => `Light so far ${clock}`,
    pause: 'Light went off',
    resume: 'Light is on again',
    made: 'Done',
    madeEarly: 'Moved already',
    madeLate: 'Moved just now, not on time',
    offNow: 'Light goes off now',
    offOnTime: 'It went off on time',
    onTime: 'I moved on time',
    movedNow: 'Moved just now',
    missedWhat: (text: string, due: string, late: string) =>
      `This was due at ${due}, ${late} ago, and could not be announced: ${text}`,
    missedNext: 'If you have not done it, do it now and tap. The times below become what they really were.',
    undo: (what: string) => `Undo “${what}”`,
    again: 'Start over',
    startedOver: 'The clock stands at the beginning.',
    restored: 'The run before is back.',
    bringBack: 'Bring back the run before',
    handsFree: 'Hands free: a move counts as made when it is announced',
    handsFreeNote: 'Without it, tap “Done” at every move.',
    sound: 'Sound',
    soundOn: 'Sound is on',
    soundOff: 'Sound is off',
    soundTry: 'Try the sound',
    soundAgain: 'Switch the sound on again',
    soundLost: 'The browser silenced the sound when the page was opened anew.',
    soundNote: 'Three short tones, then a long one at the move; two long ones when the light goes off.',
    dim: 'Dim',
    bright: 'Bright',
    dimNote:
      'Dim shows red on black, for a darkened room. Test your cloth under it: a screen is no safelight.',
    awake: 'The screen stays awake.',
    notAwake:
      'This browser can’t keep the screen awake here. Set the screen’s own time to the longest; the clock runs on in any case, and says what it could not announce.',
    warmUp: 'Warm-up',
    warmUpStart: 'Warm-up from now',
    warmUpStop: 'End the warm-up',
    warmUpFor: (clock: string) => `Warming up for ${clock}. Tubes want 5 to 10 min, with everything covered.`,
    warmUpDone: 'Warm enough: 10 min are over.',
    strip: 'The strip now',
    stripText: (open: string, covered: string) => `Open to the light: ${open}. Dark: ${covered}.`,
    none: 'none',
    moves: 'Moves',
    state: {
      made: 'done',
      late: (stops: string) => `done, ${stops} late`,
      early: (stops: string) => `done, ${stops} early`,
      missed: 'missed',
      coming: '',
      now: 'now',
    },
    exposures: 'What each step really got',
    planned: 'Planned',
    real: 'Really',
    difference: 'Difference',
    soFar: 'so far',
    asPlanned: 'as planned',
    done: 'All steps are exposed.',
    doneNote: 'Wash and dry all steps and the base together, then photograph them beside the card.',
    toRead: 'Photograph it with these times',
    offline: 'The clock needs no network once this page is open.',
    step: (step: number) => `Step ${step}`,
    scrap: (step: number) => `Scrap ${step}`,
    base: 'Base',
  },

  book: {
    heading: 'Book',
    onDevice: 'In this browser',
    onDeviceNote: (most: number) =>
      `Strips that you read here stay in this browser, the newest ${most} of them, photo included.`,
    empty: 'Nothing read yet.',
    emptyNext: 'Plan a strip, expose it, photograph it beside a grey card: its reading then lies here.',
    open: 'Open',
    putAway: 'Put away',
    putAwayDone: (name: string) => `${name} is put away.`,
    readAt: (date: string) => `read ${date}`,
    noStorage:
      'This browser keeps nothing here: private windows and full disks do that. Save readings as files.',
  },

  settings: {
    heading: 'Settings',
    language: 'Language',
    languages: { en: 'English', de: 'Deutsch' },
    theme: 'Brightness of the page',
    themes: { light: 'Light', dark: 'Dark', system: 'As the device' },
    themeNote: 'Both are neutral grey, so that colours on them are judged fairly.',
    timerStep: 'Smallest step of your timer (s)',
    timerStepNote: 'Planned times are rounded to it. Leave empty for whole seconds.',
    kept: 'These settings stay in this browser.',
  },

  warning: {
    'base-missing': 'No base',
    'card-clipped': 'Card burnt out or blocked',
    'card-patch-refused': 'Card patch left out',
    'few-steps': 'Few steps',
    glare: 'Shine',
    'light-mixed': 'Mixed light',
    'light-not-evened': 'Uneven light left in',
    'light-uneven': 'Uneven light',
    'marks-uncertain': 'Marks not sure',
    'moves-too-close': 'Moves close together',
    'other-light': 'Another light',
    'photo-blurred': 'Blurred',
    'photo-far': 'Far away',
    'photo-oblique': 'Taken from the side',
    'photo-saved-small': 'Small photo',
    'range-too-narrow': 'Narrow range',
    relative: 'Relative only',
    'shadow-edge': 'Shadow edge',
    'sky-uncertain': 'The sky is uncertain',
    'step-clipped': 'Step burnt out or blocked',
    'steps-merged': 'Steps merged',
    'steps-not-marked': 'Steps without a mark',
    'steps-too-coarse': 'Steps far apart',
    'steps-too-fine': 'Steps close together',
    'sun-changes': 'The sun changes',
    'target-beyond-curve': 'Beyond the earlier strip',
    'target-unattainable': 'Deeper than this dye goes',
    'timer-too-coarse': 'Coarse timer',
  } satisfies Record<WarningCode, string>,
  otherWarning: 'Mind',

  note: {
    cover:
      'Use a cover that ultraviolet can’t pass; it lies flat and does not drag the cloth. Light creeps under its edge: only the middle of each step is read.',
    intermittency:
      'The light goes off for every move, so a step gets its time in several bursts. Several short exposures may not equal one long one of the same total (intermittency). Leave the light burning if you can; otherwise check the final time on a scrap in one stretch.',
    'lamp-warm-up':
      'Let the tubes burn 5 to 10 min before the first exposure, behind a shutter or with everything covered. Every switch-on of cold tubes loses light.',
    'middle-of-bed':
      'The steps lie in a row, so an uneven light passes for exposure: use the middle of the bed, and turn a second strip end for end.',
    'mixed-order':
      'Lay the scraps in the order given, short and long mixed, or an uneven light passes for exposure.',
    'one-stretch':
      'Leave the light burning: every step then gets its light in one stretch, as the piece will.',
    'same-place': 'Lay every scrap on the same spot, in the middle of the bed.',
    'same-wash': 'Wash and dry all steps and the base together, as the piece will be.',
    'sun-does-not-repeat':
      'The sun will not repeat this strip. Note sky, clock and angle, and lay a control scrap beside every piece.',
    'sun-protection': 'Protect skin and eyes in the sun as well; check the local ultraviolet index.',
  } satisfies Record<NoteCode, string>,

  cautions: {
    heading: 'Take care',
    of: Object.fromEntries(CAUTIONS.map(({ key, text }) => [key, text])) as Readonly<
      Record<CautionKey, string>
    >,
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
    'computer-only': {
      what: 'A phone may not do that.',
      next: 'Do it on the page of the computer that Tonestep runs on.',
    },
    'inbox-full': {
      what: 'There is no room for another photo; this one was not kept.',
      next: 'Take photos out of the inbox on the computer, then send this one again.',
    },
    'archive-invalid': {
      what: 'This file is no archive of a Tonestep book; nothing was brought in.',
      next: 'Choose the file that “export” made, unchanged.',
    },
    'archive-damaged': {
      what: 'The archive is damaged or breaks off; nothing was brought in.',
      next: 'Copy it again from where it was made, or export the other book once more.',
    },
    'archive-too-large': {
      what: 'The archive is larger than a book can be; nothing was brought in.',
      next: 'Bring in only archives that you or people you trust have made.',
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
