import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { ReadingLine } from '../../server/contracts/recordReadings.ts';
import type { Sky } from '../../server/contracts/recordText.ts';
import type { Batch, Cloth, Dye, Light } from '../../server/contracts/recordThings.ts';
import type { Doubt, Feedback, Print, Today } from '../../server/contracts/recordUse.ts';
import type { Target } from '../../server/contracts/target.ts';
import { goTo } from '../address.ts';
import type { Failure } from '../api.ts';
import { formatMoment, formatNumber, parseNumber } from '../numbers.ts';
import { Choice } from '../parts/Choice.tsx';
import { tell } from '../parts/Notice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { Said } from '../parts/Remarks.tsx';
import { ScrollPlace } from '../parts/ScrollPlace.tsx';
import { DEPTHS, type Depth } from '../plan/planDraft.ts';
import { Answered } from '../record/Answered.tsx';
import { asking, failureOf } from '../record/ask.ts';
import { BookWays } from '../record/BookWays.tsx';
import {
  askToday,
  bringBack,
  fetchBatches,
  fetchCloths,
  fetchDyes,
  fetchFeedback,
  fetchLights,
  fetchPrints,
  fetchReadings,
  keepPrint,
  putAway,
  sayReached,
} from '../record/recordApi.ts';
import { phraseText } from '../sentences/phraseText.ts';
import { stopsText } from '../sentences/stopsText.ts';
import { keptKey } from '../session.ts';
import { timerStepSeconds } from '../settings.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import '../styles/book.css';
import '../styles/table.css';
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
        ` ${words.today.shift(stopsText(moved.shiftStops.value))}`}
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

const Reached = ({ made, again }: { made: Print; again: () => void }) => {
  const text = useSignal('');
  const wrong = useSignal(false);
  const date = formatMoment(Date.parse(made.exposedAt));
  if (made.reachedL !== null)
    return (
      <>
        {formatNumber(made.reachedL, 1)}
        {made.missedStops !== null && (
          <span class="fine"> {`${made.missedStops > 0 ? '+' : ''}${stopsText(made.missedStops)}`}</span>
        )}
      </>
    );
  return (
    <form
      class="reached"
      onSubmit={async (event) => {
        event.preventDefault();
        const L = parseNumber(text.value);
        wrong.value = L === null || L < 0 || L > 100;
        if (L === null || wrong.value) return;
        await sayReached(made.id, L);
        again();
      }}
    >
      <input
        aria-label={words.today.reachedField(date)}
        value={text.value}
        inputMode="decimal"
        aria-invalid={wrong.value}
        onInput={(event) => {
          text.value = event.currentTarget.value;
        }}
      />
      <button type="submit">{words.today.sayReached}</button>
      {wrong.value && (
        <p class="field-problem" role="alert">
          {words.today.reachedWrong}
        </p>
      )}
    </form>
  );
};

const Prints = ({
  prints,
  feedback,
  again,
}: {
  prints: readonly Print[];
  feedback: Feedback;
  again: () => void;
}) => {
  const { value, low, high } = feedback.depthPercent;
  return (
    <section aria-labelledby="prints-heading">
      <h2 id="prints-heading">{words.today.prints}</h2>
      {prints.length === 0 ? (
        <p class="fine">{words.today.noPrints}</p>
      ) : (
        <>
          <ScrollPlace labelledBy="prints-heading">
            <table class="plan-table">
              <thead>
                <tr>
                  <th scope="col">{words.drift.date}</th>
                  <th scope="col">{words.today.used}</th>
                  <th scope="col">{words.today.predicted}</th>
                  <th scope="col">{words.today.reached}</th>
                  <th scope="col">
                    <span class="unseen">{words.book.putAway}</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {prints.map((made) => (
                  <tr key={made.id}>
                    <th scope="row">{formatMoment(Date.parse(made.exposedAt))}</th>
                    <td>{formatTime(made.secondsUsed)}</td>
                    <td>{made.predictedL === null ? '–' : formatNumber(made.predictedL, 1)}</td>
                    <td>
                      <Reached made={made} again={again} />
                    </td>
                    <td>
                      <button
                        type="button"
                        class="quiet"
                        onClick={async () => {
                          await putAway('print', made.id);
                          again();
                          tell(words.book.putAwayDone(words.book.purposes.print), () =>
                            bringBack('print', made.id).then(again),
                          );
                        }}
                      >
                        {words.book.putAway}
                      </button>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollPlace>
          <p>
            {value === null || low === null || high === null
              ? words.today.noBias
              : words.today.bias(formatNumber(value, 1), formatNumber(low, 1), formatNumber(high, 1))}
          </p>
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
  const failure = useSignal<Failure | null>(null);
  const { answer, ask } = useMemo(() => asking<Today>(), []);
  const { answer: made, ask: askMade } = useMemo(
    () => asking<{ readonly prints: readonly Print[]; readonly feedback: Feedback }>(),
    [],
  );
  const use = { dyeId: dyeId.value, clothId: clothId.value, lightId: lightId.value };
  const light = lights.find(({ id }) => id === lightId.value);
  const lampHours = light?.kind === 'lamps' ? parseNumber(hours.value) : null;
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
      const [prints, feedback] = await Promise.all([fetchPrints(use), fetchFeedback(use)]);
      return { prints, feedback };
    });
  const wished = JSON.stringify(wish);
  useEffect(() => {
    look();
  }, [wished]);
  useEffect(() => {
    lookMade();
  }, [dyeId.value, clothId.value, lightId.value]);
  const list = (some: readonly { readonly id: string; readonly name: string }[]) =>
    some.map(({ id, name }) => [id, name] as const);
  const printed = async (): Promise<void> => {
    const now = answer.value;
    if (now?.kind !== 'here' || now.value.kind !== 'time') return;
    try {
      const print = await keepPrint({
        ...wish,
        secondsUsed: now.value.roundedSeconds,
        calibrationId: now.value.basis.readingId,
      });
      failure.value = null;
      lookMade();
      tell(words.today.printedDone, () => putAway('print', print.id).then(lookMade));
    } catch (error) {
      failure.value = failureOf(error);
    }
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
          <label class="field">
            <span>{words.today.lampHours}</span>
            <input
              value={hours.value}
              inputMode="decimal"
              placeholder={words.keep.notNoted}
              onInput={(event) => {
                hours.value = event.currentTarget.value;
              }}
            />
          </label>
        )}
      </div>
      <div class="today-answers">
        <Answered asked={answer.value} again={look}>
          {(today) => <Answer today={today} onPrinted={printed} />}
        </Answered>
        {failure.value && <ProblemNote failure={failure.value} />}
        <Answered asked={made.value} again={lookMade}>
          {({ prints, feedback }) => <Prints prints={prints} feedback={feedback} again={lookMade} />}
        </Answered>
      </div>
    </div>
  );
};

/** What time to take today, by what the book knows. */
export const TodayView = () => {
  const { answer, ask } = useMemo(() => asking<Things>(), []);
  const look = (): Promise<void> => ask(fetchThings);
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
              <button type="button" onClick={() => goTo('book')}>
                {words.book.heading}
              </button>
            </div>
          )
        }
      </Answered>
    </main>
  );
};
