import { signal } from '@preact/signals';
import type { Preview } from '../server/contracts/answers.ts';
import type { Marks } from '../server/contracts/marks.ts';
import type { CardKind, StripDescription } from '../server/contracts/strip.ts';
import { keepJson, keptJson } from './kept.ts';
import { decimalSign } from './numbers.ts';
import { type OwnPatchDraft, patchesOf } from './ownPatches.ts';
import { formatTime, parseTimes } from './times.ts';

/** The photo chosen for the next reading, as the server can show it. */
export interface ChosenPhoto {
  readonly file: Blob;
  readonly name: string;
  readonly preview: Preview;
}

/** A further photo of the strip, with marks where they were placed by hand. */
export interface FurtherDraft extends ChosenPhoto {
  readonly marks: Marks | null;
}

/** What has been entered for the next reading. Kept through errors, and its text through a reload. */
export const draft = {
  photo: signal<ChosenPhoto | null>(null),
  card: signal<CardKind | 'own'>('white-grey-black'),
  ownPatches: signal<readonly OwnPatchDraft[]>([
    { name: 'white', measure: 'Y', value: '' },
    { name: 'grey', measure: 'Y', value: '' },
  ]),
  times: signal(''),
  dye: signal(''),
  cloth: signal(''),
  light: signal(''),
  /** Further photos of the same strip. */
  also: signal<readonly FurtherDraft[]>([]),
  /** Marks placed by hand on the chosen photo; null where they are to be found. */
  marks: signal<Marks | null>(null),
  /** True once reading was asked for with something missing: then what is missing is said. */
  tried: signal(false),
  /** True where the times are those of a strip that the page's clock saw exposed. */
  fromRun: signal(false),
};

/** Has anybody chosen a photo or written a word yet? */
export const hasEntered = (): boolean =>
  draft.photo.value !== null ||
  [draft.times, draft.dye, draft.cloth, draft.light].some(({ value }) => value.trim() !== '');

/** Step times in rising order, or what is wrong with them. */
export type StepTimes =
  | { readonly kind: 'times'; readonly seconds: readonly number[] }
  | { readonly kind: 'none' }
  | { readonly kind: 'too-many' }
  | { readonly kind: 'no-time'; readonly text: string };

const MOST_STEPS = 60;

export const stepTimesOf = (text: string): StepTimes => {
  const parsed = parseTimes(text, decimalSign() === ',');
  if (!parsed.ok) return { kind: 'no-time', text: parsed.notATime };
  if (parsed.seconds.length === 0) return { kind: 'none' };
  if (parsed.seconds.length > MOST_STEPS) return { kind: 'too-many' };
  return { kind: 'times', seconds: [...parsed.seconds].sort((a, b) => a - b) };
};

/** The card as the draft describes it; null where its patches are missing or wrong. */
export const describedCard = (): StripDescription['card'] | null => {
  const kind = draft.card.value;
  if (kind !== 'own') return kind;
  const patches = patchesOf(draft.ownPatches.value);
  return patches.kind === 'problem' ? null : { patches: patches.patches };
};

/** The strip as the draft describes it; null where something is missing or wrong. */
export const describedStrip = (): StripDescription | null => {
  const times = stepTimesOf(draft.times.value);
  if (times.kind !== 'times') return null;
  const card = describedCard();
  if (card === null) return null;
  return {
    dye: draft.dye.value.trim(),
    cloth: draft.cloth.value.trim(),
    light: draft.light.value.trim(),
    card,
    steps: times.seconds.map((seconds) => ({ seconds })),
  };
};

export const writeTimes = (seconds: readonly number[]): void => {
  draft.times.value = seconds.map(formatTime).join('; ');
  draft.fromRun.value = false;
};

const KEY = 'tonestep.draft';
const TEXTS = ['card', 'times', 'dye', 'cloth', 'light', 'ownPatches', 'fromRun'] as const;

/** Brings back what was typed before a reload: on a phone, taking a photo may end the page. */
export const restoreDraft = (): void => {
  const kept = keptJson(KEY);
  if (typeof kept !== 'object' || kept === null) return;
  for (const name of TEXTS) {
    const value = (kept as Record<string, unknown>)[name];
    if (typeof value === typeof draft[name].value) (draft[name] as { value: unknown }).value = value;
  }
};

export const keepDraft = (): void => {
  keepJson(KEY, Object.fromEntries(TEXTS.map((name) => [name, draft[name].value])));
};
