import { useSignal, useSignalEffect } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { goTo } from '../address.ts';
import type { Failure } from '../api.ts';
import { BedPhoto } from '../bed/BedPhoto.tsx';
import { mapBed } from '../bed/bedApi.ts';
import { basisOf, bedDraft, clearBed, wholeNumber, withPatches } from '../bed/bedDraft.ts';
import { restoreBed } from '../bed/bedKeep.ts';
import { MapPart } from '../bed/MapPart.tsx';
import { patchNamesOf } from '../cardPatches.ts';
import { type Candidate, candidates, fetchCompared } from '../compare/comparable.ts';
import { describedCard, keepDraft } from '../draft.ts';
import { areProper } from '../handMarks.ts';
import { CardField } from '../parts/CardField.tsx';
import { Choice } from '../parts/Choice.tsx';
import { tell } from '../parts/Notice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { TextField } from '../parts/TextField.tsx';
import { Answered } from '../record/Answered.tsx';
import { asking, failureOf } from '../record/ask.ts';
import { BookWays } from '../record/BookWays.tsx';
import { demos } from '../session.ts';
import { shelf } from '../shelf/shelf.ts';
import { words } from '../words.ts';
import '../styles/book.css';
import '../styles/table.css';
import '../styles/choices.css';
import '../styles/bed.css';

const FIELD_RANGES = { rows: [3, 12], columns: [3, 12], tolerance: [1, 50] } as const;

const numberIn = (name: keyof typeof FIELD_RANGES): number | null => {
  const [least, most] = FIELD_RANGES[name];
  return wholeNumber(bedDraft[name].value, least, most);
};

const NumberField = ({ name }: { name: keyof typeof FIELD_RANGES }) => {
  const [least, most] = FIELD_RANGES[name];
  return (
    <TextField
      label={words.evenness[name]}
      value={bedDraft[name]}
      kind="count"
      problem={numberIn(name) === null ? words.evenness.range(least, most) : null}
    />
  );
};

const CurveChoice = ({ known }: { known: readonly Candidate[] }) => (
  <Choice
    label={words.evenness.curve}
    value={bedDraft.curve}
    options={[
      ['', words.evenness.chooseCurve],
      ...known.map(
        ({ key, name, detail, isDemo }) =>
          [key, isDemo ? `${name} (${words.frame.demo})` : `${name} · ${detail}`] as const,
      ),
    ]}
  />
);

/** The map follows another tolerance when the hand has rested for so long. */
const FOLLOW_MS = 400;

/** The bed from above: is the light alike all over it? */
export const EvennessView = () => {
  const { answer: known, ask } = useMemo(() => asking<readonly Candidate[]>(), []);
  const failure = useSignal<Failure | null>(null);
  const busy = useSignal(false);
  /** True once the map was asked for with something missing. */
  const tried = useSignal(false);
  const look = (): Promise<void> => ask(candidates);
  useSignalEffect(() => {
    // Named, so that strips which come in later are listed too.
    shelf.value;
    demos.value;
    look();
  });
  useEffect(() => {
    restoreBed();
  }, []);
  const drawn = bedDraft.drawn.value;
  const card = describedCard();
  const names = card === null ? [] : patchNamesOf(card);
  const photo = bedDraft.photo.value;
  const turned = bedDraft.turned.value;
  const [rows, columns, tolerancePercent] = (['rows', 'columns', 'tolerance'] as const).map((name) =>
    numberIn(name),
  );
  const candidate =
    known.value?.kind === 'here'
      ? known.value.value.find(({ key }) => key === bedDraft.curve.value)
      : undefined;
  const marksFit = [photo, turned].every((shot) => shot === null || areProper(shot.marks));
  const missing =
    photo === null
      ? words.form.noPhoto
      : card === null
        ? words.evenness.noCard
        : candidate === undefined
          ? words.evenness.noCurveChosen
          : rows === null || columns === null || tolerancePercent === null
            ? words.evenness.fieldsWrong
            : marksFit
              ? null
              : words.photo.crossed;
  const draw = async (): Promise<void> => {
    if (missing !== null || !photo || !card || !candidate || !rows || !columns || !tolerancePercent) return;
    busy.value = true;
    failure.value = null;
    try {
      const [compared] = await fetchCompared([candidate]);
      const basis = basisOf(card);
      const answer = await mapBed({
        photo: { ...photo, marks: withPatches(photo, names) },
        turned: turned && { ...turned, marks: withPatches(turned, names) },
        card,
        rows,
        columns,
        tolerancePercent,
        curve: compared.reading,
      });
      bedDraft.drawn.value = { answer, basis };
      keepDraft();
    } catch (error) {
      failure.value = failureOf(error);
    } finally {
      busy.value = false;
    }
  };
  useEffect(() => {
    const shownNow = bedDraft.drawn.peek()?.answer.evenness;
    if (shownNow?.kind !== 'map' || shownNow.tolerancePercent === tolerancePercent) return;
    const waiting = setTimeout(draw, FOLLOW_MS);
    return () => clearTimeout(waiting);
  }, [tolerancePercent]);
  return (
    <main class="book-view evenness-view" id="main" tabIndex={-1}>
      <h1>{words.evenness.heading}</h1>
      <BookWays />
      <p>{words.evenness.why}</p>
      <Answered asked={known.value} again={look}>
        {(list) =>
          list.length === 0 ? (
            <div class="empty">
              <p class="empty-what">{words.evenness.noCurve}</p>
              <p>{words.evenness.noCurveNext}</p>
              <button type="button" onClick={() => goTo('read')}>
                {words.form.heading}
              </button>
            </div>
          ) : (
            <div class="bed-columns">
              <section class="bed-photos" aria-labelledby="bed-photo-heading">
                <h2 id="bed-photo-heading">{words.evenness.photo}</h2>
                <p class="fine">{words.evenness.photoNote}</p>
                <BedPhoto shot={bedDraft.photo} turned={false} patchNames={names} />
                {photo && (
                  <>
                    <h3>{words.evenness.turned}</h3>
                    <p class="fine">{words.evenness.turnedNote}</p>
                    <BedPhoto shot={bedDraft.turned} turned={true} patchNames={names} />
                    <button
                      type="button"
                      class="quiet"
                      onClick={() => tell(words.evenness.cleared, clearBed())}
                    >
                      {words.evenness.clear}
                    </button>
                  </>
                )}
              </section>
              <div class="bed-facts">
                <CurveChoice known={list} />
                <div class="bed-numbers">
                  <NumberField name="tolerance" />
                  <NumberField name="columns" />
                  <NumberField name="rows" />
                </div>
                <CardField />
                {tried.value && missing !== null && (
                  <p class="field-problem" role="alert">
                    {missing}
                  </p>
                )}
                <button
                  type="button"
                  class="primary"
                  disabled={busy.value}
                  onClick={() => {
                    tried.value = missing !== null;
                    draw();
                  }}
                >
                  {words.evenness.draw}
                </button>
                <p role="status" class="fine">
                  {busy.value ? words.evenness.drawing : ''}
                </p>
              </div>
            </div>
          )
        }
      </Answered>
      {failure.value && <ProblemNote failure={failure.value} entered />}
      {drawn && (
        <>
          {drawn.basis !== basisOf(card) && <p class="field-problem">{words.evenness.stale}</p>}
          <MapPart answer={drawn.answer} />
        </>
      )}
    </main>
  );
};
