import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { ReadingLine } from '../../server/contracts/recordReadings.ts';
import type { Sky } from '../../server/contracts/recordText.ts';
import type { Batch, Cloth, Dye, Light } from '../../server/contracts/recordThings.ts';
import type { Doubt, Feedback, Today } from '../../server/contracts/recordUse.ts';
import type { Target } from '../../server/contracts/target.ts';
import { goTo } from '../address.ts';
import { formatMoment, formatNumber, parseNumber } from '../numbers.ts';
import { Choice } from '../parts/Choice.tsx';
import { tell } from '../parts/Notice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { Said } from '../parts/Remarks.tsx';
import { TextField } from '../parts/TextField.tsx';
import { DEPTHS, type Depth } from '../plan/planDraft.ts';
import { Answered } from '../record/Answered.tsx';
import { useActing } from '../record/acting.ts';
import { asking } from '../record/ask.ts';
import { BookWays } from '../record/BookWays.tsx';
import {
  askToday,
  fetchBatches,
  fetchCloths,
  fetchDyes,
  fetchFeedback,
  fetchLights,
  fetchPrints,
  fetchReadings,
  keepPrint,
  type PrintList,
  putAway,
} from '../record/recordApi.ts';
import { phraseText } from '../sentences/phraseText.ts';
import { stopsText } from '../sentences/stopsText.ts';
import { keptKey } from '../session.ts';
import { timerStepSeconds } from '../settings.ts';
import { shelf } from '../shelf/shelf.ts';
import { formatTime } from '../times.ts';
import { PrintForm } from '../today/PrintForm.tsx';
import { Prints } from '../today/Prints.tsx';
import { words } from '../words.ts';
import '../styles/book.css';
import '../styles/keep.css';
import '../styles/today.css';

interface Things {
  readonly dyes: readonly Dye[];
  readonly cloths: readonly Cloth[];
  readonly lights: readonly Light[];
  readonly batches: readonly Batch[];
  /** The newest calibration: what was used last is asked for first. */
  readonly newest: ReadingLine | null;
}

const fetchThings = async (): Promise<Things> => {
  const [dyes, cloths, lights, batches, { readings }] = await Promise.all([
    fetchDyes(),
    fetchCloths(),
    fetchLights(),
    fetchBatches(),
    fetchReadings({ purpose: 'calibration', limit: 1 }),
  ]);
  return { dyes, cloths, lights, batches, newest: readings[0] ?? null };
};

const AT_ONCE = 20;
const SKIES: readonly Sky[] = ['clear', 'scattered', 'broken', 'overcast'];

const targetOf = (depth: Depth): Target =>
  depth === 'full' ? { kind: 'full' } : { kind: 'depth', percent: Number(depth) };

const Doubts = ({ doubts, trusted }: { doubts: readonly Doubt[]; trusted: boolean }) => {
  const list = (weight: Doubt['weight'], heading: string) => {
    const some = doubts.filter((doubt) => doubt.weight === weight);
    return (
      some.length > 0 && (
        <>
          <p class="doubt-heading">{heading}</p>
          <ul class="warnings">
            {some.map(({ code, message, phrase }) => (
              <li key={code + message}>
                {words.language !== 'en' && !phraseText(phrase) && `${words.today.doubt[code]} `}
                <Said text={message} phrase={phrase} />
              </li>
            ))}
          </ul>
        </>
      )
    );
  };
  return (
    <div class="doubts">
      {trusted && <p>{words.today.trusted}</p>}
      {list('distrust', words.today.doubted)}
      {list('note', words.today.good)}
    </div>
  );
};

const Basis = ({ basis, moved }: Pick<Extract<Today, { kind: 'time' }>, 'basis' | 'moved'>) => (
  <div>
    <p>
      {basis.ageDays < 0.5
        ? words.today.basisToday(formatMoment(Date.parse(basis.exposedAt)))
        : words.today.basis(formatMoment(Date.parse(basis.exposedAt)), formatNumber(basis.ageDays, 0))}{' '}
      {words.today.ofHowMany(basis.ofHowMany)} {words.today.moved[moved.by]}
      {moved.by !== 'nothing' &&
        moved.shiftStops.value !== null &&
        ` ${words.today.shift(`${moved.shiftStops.value > 0 ? '+' : ''}${stopsText(moved.shiftStops.value)}`)}`}
    </p>
    <button type="button" onClick={() => goTo('answer', keptKey(basis.readingId))}>
      {words.today.openBasis}
    </button>
  </div>
);

const Answer = ({ today, onPrinted }: { today: Today; onPrinted: () => void }) => {
  if (today.kind === 'no-calibration')
    return (
      <div class="empty">
        <p class="empty-what">{words.today.noCalibration}</p>
        <p>{words.today.noCalibrationNext}</p>
        <button type="button" onClick={() => goTo('plan')}>
          {words.plan.heading}
        </button>
      </div>
    );
  return (
    <section class="today-answer" aria-labelledby="today-heading">
      <h2 id="today-heading">{words.today.answer}</h2>
      {today.kind === 'time' ? (
        <>
          <p class="figures">{formatTime(today.roundedSeconds)}</p>
          <p class="interval-line">
            <strong>
              {today.highOpen
                ? words.answer.openInterval(formatTime(today.low))
                : words.answer.interval(formatTime(today.low), formatTime(today.high))}
            </strong>{' '}
            {words.answer.intervalNote}
          </p>
          <p>
            {words.today.gives(
              formatNumber(today.predictedL, 1),
              formatNumber(today.predictedDepthPercent, 0),
            )}
          </p>
          <Doubts doubts={today.doubts} trusted={today.trusted} />
          <Basis basis={today.basis} moved={today.moved} />
          <button type="button" class="primary" onClick={onPrinted}>
            {words.today.printed}
          </button>
        </>
      ) : (
        <>
          <p class="no-time">{words.answer.noTime}</p>
          <p>
            {words.language !== 'en' && `${words.answer.status[today.status]}. `}
            <Said text={today.sentence} phrase={today.phrase} />
          </p>
          <Doubts doubts={today.doubts} trusted={false} />
          <Basis basis={today.basis} moved={today.moved} />
        </>
      )}
    </section>
  );
};

const Ask = ({ things }: { things: Things }) => {
  const { dyes, cloths, lights, batches, newest } = things;
  const dyeId = useSignal(newest?.dyeId ?? dyes[0].id);
  const clothId = useSignal(newest?.clothId ?? cloths[0].id);
  const lightId = useSignal(newest?.lightId ?? lights[0].id);
  const depth = useSignal<Depth>('full');
  const batchId = useSignal('');
  const hours = useSignal('');
  const sky = useSignal<Sky | ''>('');
  const { failure, act } = useActing();
  const away = useSignal(false);
  const limit = useSignal(AT_ONCE);
  const { answer, ask } = useMemo(() => asking<Today>(), []);
  const { answer: made, ask: askMade } = useMemo(
    () => asking<{ readonly list: PrintList; readonly feedback: Feedback }>(),
    [],
  );
  const use = { dyeId: dyeId.value, clothId: clothId.value, lightId: lightId.value };
  const light = lights.find(({ id }) => id === lightId.value);
  const hoursSaid = light?.kind === 'lamps' && hours.value.trim() !== '' ? parseNumber(hours.value) : null;
  const hoursWrong =
    light?.kind === 'lamps' && hours.value.trim() !== '' && (hoursSaid === null || hoursSaid < 0);
  const lampHours = hoursWrong ? null : hoursSaid;
  const wish = {
    ...use,
    target: targetOf(depth.value),
    batchId: batchId.value || null,
    lampHours,
    sky: light?.kind === 'sun' && sky.value !== '' ? sky.value : null,
  };
  const timerStep = timerStepSeconds();
  const look = (): Promise<void> =>
    ask(() =>
      askToday({ ...wish, ...(timerStep !== null && timerStep >= 0.1 && { timerStepSeconds: timerStep }) }),
    );
  const lookMade = (): Promise<void> =>
    askMade(async () => {
      const [list, feedback] = await Promise.all([
        fetchPrints({ ...use, away: away.value, limit: limit.value }),
        fetchFeedback(use),
      ]);
      return { list, feedback };
    });
  const wished = JSON.stringify(wish);
  useEffect(() => {
    look();
  }, [wished]);
  useEffect(() => {
    lookMade();
  }, [dyeId.value, clothId.value, lightId.value, away.value, limit.value]);
  const list = (some: readonly { readonly id: string; readonly name: string }[]) =>
    some.map(({ id, name }) => [id, name] as const);
  const printed = async (): Promise<void> => {
    const now = answer.value;
    if (now?.kind !== 'here' || now.value.kind !== 'time') return;
    const { roundedSeconds, basis } = now.value;
    await act(async () => {
      const print = await keepPrint({
        ...wish,
        secondsUsed: roundedSeconds,
        calibrationId: basis.readingId,
      });
      lookMade();
      tell(words.today.printedDone, () => act(() => putAway('print', print.id).then(lookMade)));
    });
  };
  return (
    <div class="today-columns">
      <div class="today-wish">
        <Choice label={words.form.dye} value={dyeId} options={list(dyes)} />
        <Choice label={words.form.cloth} value={clothId} options={list(cloths)} />
        <Choice label={words.form.light} value={lightId} options={list(lights)} />
        <Choice
          label={words.plan.depth}
          value={depth}
          options={DEPTHS.map((name) => [
            name,
            name === 'full' ? words.plan.depthFull : words.target.depthLabel(Number(name)),
          ])}
        />
        <Choice
          label={words.keep.batch}
          value={batchId}
          options={[['', words.keep.noBatch], ...list(batches)]}
        />
        {light?.kind === 'sun' ? (
          <Choice
            label={words.plan.sky}
            value={sky}
            options={[
              ['', words.keep.notNoted],
              ...SKIES.map((name) => [name, words.plan.skies[name]] as const),
            ]}
          />
        ) : (
          <TextField
            label={words.today.lampHours}
            value={hours}
            kind="number"
            placeholder={words.keep.notNoted}
            problem={hoursWrong ? words.keep.hoursWrong : null}
          />
        )}
      </div>
      <div class="today-answers">
        <Answered asked={answer.value} again={look}>
          {(today) => <Answer today={today} onPrinted={printed} />}
        </Answered>
        {failure.value && <ProblemNote failure={failure.value} entered />}
        <section class="prints" aria-labelledby="prints-heading">
          <h2 id="prints-heading">{words.today.prints}</h2>
          <details class="note-print">
            <summary>{words.today.notePrint}</summary>
            <PrintForm
              today={answer.value?.kind === 'here' ? answer.value.value : null}
              wish={wish}
              onKept={() => {
                look();
                lookMade();
              }}
            />
          </details>
          <Answered asked={made.value} again={lookMade}>
            {({ list, feedback }) => (
              <Prints
                list={list}
                feedback={feedback}
                away={away}
                again={() => {
                  look();
                  lookMade();
                }}
                onMore={() => {
                  limit.value += AT_ONCE;
                }}
              />
            )}
          </Answered>
        </section>
      </div>
    </div>
  );
};

/** What time to take today, by what the book knows. */
export const TodayView = () => {
  const { answer, ask } = useMemo(() => asking<Things>(), []);
  const look = (): Promise<void> => ask(fetchThings);
  const [newestRead] = shelf.value;
  useEffect(() => {
    look();
  }, []);
  return (
    <main class="book-view" id="main" tabIndex={-1}>
      <h1>{words.today.heading}</h1>
      <BookWays />
      <Answered asked={answer.value} again={look}>
        {(things) =>
          things.dyes.length > 0 && things.cloths.length > 0 && things.lights.length > 0 ? (
            <Ask things={things} />
          ) : (
            <div class="empty">
              <p class="empty-what">{words.book.keptEmpty}</p>
              <p>{words.book.keptEmptyNext}</p>
              {newestRead === undefined ? (
                <>
                  <button type="button" class="primary" onClick={() => goTo('plan')}>
                    {words.plan.heading}
                  </button>
                  <button type="button" onClick={() => goTo('read')}>
                    {words.form.heading}
                  </button>
                </>
              ) : (
                <button type="button" class="primary" onClick={() => goTo('answer', newestRead.key)}>
                  {words.today.keepNewest}
                </button>
              )}
            </div>
          )
        }
      </Answered>
    </main>
  );
};
