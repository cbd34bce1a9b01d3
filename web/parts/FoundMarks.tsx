import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Preview } from '../../server/contracts/answers.ts';
import type { Marks } from '../../server/contracts/marks.ts';
import { patchNamesOf } from '../cardPatches.ts';
import { areProper, firstMarks } from '../handMarks.ts';
import { formatNumber } from '../numbers.ts';
import { demoText } from '../sentences/demoText.ts';
import { followMarks, photosWith, readAgain, restoreShown, type Shown, undoAgain, work } from '../session.ts';
import { words } from '../words.ts';
import { LiveEditorPart, TapPhotoPart } from './lazyMarks.tsx';
import { MarkedPhoto } from './MarkedPhoto.tsx';
import { tell } from './Notice.tsx';
import { ProblemNote } from './ProblemNote.tsx';
import type { TapPart } from './TapPhoto.tsx';
import { WorkNote } from './WorkNote.tsx';

const TAPPED: readonly TapPart[] = ['card', 'strip'];

/** The whole reading follows when the hand has rested for so long. */
const FOLLOW_MS = 150;

/** Marks less sure than this want looking at. */
const SURE = 0.5;

const isUnsure = (marks: Marks | null): boolean =>
  marks !== null && [...marks.card, ...marks.steps].some(({ confidence }) => confidence < SURE);

const isByHand = (marks: Marks): boolean =>
  [...marks.card, ...marks.steps].some(({ origin }) => origin === 'hand');

type AtLeastOne<T> = readonly [T, ...T[]];

/** Marks of all photos while those of some are moved. */
interface Edited {
  readonly marks: AtLeastOne<Marks>;
  /** Photos whose marks a person has before them: what they say counts, moved or not. */
  readonly opened: ReadonlySet<number>;
}

/** Photos with what was read drawn over them; on request, with handles to put it right. */
export const FoundMarks = ({ shown }: { shown: Shown }) => {
  const edited = useSignal<Edited | null>(null);
  const which = useSignal(0);
  const { reading } = shown;
  const tapping = useSignal(false);
  const tapFailed = useSignal(false);
  const before = useRef<Shown>(shown);
  const waiting = useRef<ReturnType<typeof setTimeout>>(undefined);

  // Who leaves in the midst of it leaves the reading as it was.
  useEffect(
    () => () => {
      clearTimeout(waiting.current);
      if (edited.peek()) restoreShown(before.current);
    },
    [],
  );

  const previews: AtLeastOne<Preview> = [shown.preview, ...shown.also.map(({ preview }) => preview)];
  const found: AtLeastOne<Marks | null> = [
    reading.marks,
    ...shown.also.map(({ marks }, i) => reading.furtherMarks?.[i] ?? marks),
  ];
  const facts = [reading.photo, ...(reading.furtherPhotos ?? [])];
  const at = which.value < previews.length ? which.value : 0;
  const preview = previews[at];

  const unsure = TAPPED.filter((part) => reading.needs.some((need) => need.part === part));
  const unsurePhoto = Math.max(0, found.findIndex(isUnsure));

  const startOf = (i: number): Marks =>
    found[i] ??
    firstMarks(
      previews[i].photoWidthPx,
      previews[i].photoHeightPx,
      reading.steps.map(({ seconds }) => seconds),
      patchNamesOf(shown.strip.card),
    );
  const open = (i: number): void => {
    which.value = i;
    const now = edited.value;
    if (!now) before.current = shown;
    const marks = now?.marks ?? [startOf(0), ...shown.also.map((_, other) => startOf(other + 1))];
    edited.value = { marks, opened: new Set([...(now?.opened ?? []), i]) };
  };
  const withMoved = (marks: AtLeastOne<Marks>, moved: Marks): AtLeastOne<Marks> => {
    const [first, ...others] = marks.map((one, i) => (i === at ? moved : one));
    return [first, ...others];
  };
  const move = (now: Edited, moved: Marks): void => {
    const marks = withMoved(now.marks, moved);
    edited.value = { ...now, marks };
    clearTimeout(waiting.current);
    if (marks.every(areProper)) waiting.current = setTimeout(() => followMarks(marks), FOLLOW_MS);
  };
  const again = async ({ marks, opened }: Edited): Promise<void> => {
    clearTimeout(waiting.current);
    // Where nobody has looked, what was found is looked for again, doubts and all.
    const [first, ...others] = marks.map((one, i) => (opened.has(i) || isByHand(one) ? one : null));
    const was = before.current;
    if (!(await readAgain({ marks: [first, ...others] }))) return;
    edited.value = null;
    tell(words.photo.corrected, () => undoAgain(was));
  };

  const photoChoice = previews.length > 1 && (
    <fieldset class="photo-choice">
      <legend class="unseen">{words.photo.which}</legend>
      {previews.map((_, i) => (
        <button
          key={i}
          type="button"
          class="choice"
          aria-pressed={i === at}
          onClick={() => {
            if (edited.value) open(i);
            else which.value = i;
          }}
        >
          {words.photo.photo(i + 1)}
        </button>
      ))}
    </fieldset>
  );

  return (
    <section class="found" aria-labelledby="found-heading">
      <h2 id="found-heading">{words.photo.heading}</h2>
      {shown.demo && (
        <p class="fine" lang={demoText(shown.demo).inEnglish ? 'en' : undefined}>
          {demoText(shown.demo).story}
        </p>
      )}
      {tapping.value ? (
        <>
          <TapPhotoPart
            preview={shown.preview}
            parts={unsure.length > 0 ? unsure : TAPPED}
            onDone={async (taps) => {
              tapFailed.value = !(await readAgain({ taps }));
              tapping.value = false;
            }}
            onStop={() => {
              tapping.value = false;
            }}
          />
          <WorkNote />
        </>
      ) : edited.value === null ? (
        <>
          {unsure.length > 0 && (
            <div class="tap-ask">
              <p>
                <strong>
                  {unsurePhoto === 0 ? words.photo.unsure : words.photo.unsureIn(unsurePhoto + 1)}
                </strong>
              </p>
              {unsurePhoto === 0 ? (
                <button
                  type="button"
                  onClick={() => {
                    which.value = 0;
                    tapping.value = true;
                  }}
                >
                  {unsure.length === 2 ? words.photo.tapOn.both : words.photo.tapOn[unsure[0]]}
                </button>
              ) : (
                <button type="button" onClick={() => open(unsurePhoto)}>
                  {words.photo.correct}
                </button>
              )}
            </div>
          )}
          {tapFailed.value && work.value.kind === 'failed' && (
            <ProblemNote failure={work.value.failure} entered />
          )}
          {photoChoice}
          <MarkedPhoto preview={preview} marks={found[at]} />
          <div class="editor-row">
            <button type="button" onClick={() => open(at)}>
              {words.photo.correct}
            </button>
            {facts[at] && (
              <span class="fine">
                {words.photo.sizes(
                  formatNumber(facts[at].widthPx, 0),
                  formatNumber(facts[at].heightPx, 0),
                  facts[at].format.toUpperCase(),
                )}
              </span>
            )}
          </div>
        </>
      ) : (
        <>
          {photoChoice}
          <LiveEditorPart
            key={at}
            preview={preview}
            marks={edited.value.marks[at]}
            photosWith={(marks) => {
              const now = edited.value?.marks;
              return now ? photosWith(shown, withMoved(now, marks)) : [];
            }}
            strip={shown.strip}
            before={reading.steps}
            onChange={(marks) => edited.value && move(edited.value, marks)}
          />
          {work.value.kind === 'failed' && <ProblemNote failure={work.value.failure} entered />}
          {work.value.kind === 'reading' ? (
            <WorkNote />
          ) : (
            <div class="editor-row">
              <button
                type="button"
                class="primary"
                disabled={!edited.value.marks.every(areProper)}
                onClick={() => edited.value && again(edited.value)}
              >
                {words.photo.readAgain}
              </button>
              <button
                type="button"
                onClick={() => {
                  clearTimeout(waiting.current);
                  edited.value = null;
                  restoreShown(before.current);
                }}
              >
                {words.photo.stop}
              </button>
            </div>
          )}
        </>
      )}
    </section>
  );
};
