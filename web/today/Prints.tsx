import { type Signal, useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Feedback, Print } from '../../server/contracts/recordUse.ts';
import { formatMoment, formatNumber } from '../numbers.ts';
import { tell } from '../parts/Notice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { Tick } from '../parts/Tick.tsx';
import { useActing } from '../record/acting.ts';
import { type PrintList, sayOutcome } from '../record/recordApi.ts';
import { useAway } from '../record/useAway.ts';
import { stopsText } from '../sentences/stopsText.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { OutcomeFields } from './OutcomeFields.tsx';
import { isOutcome, outcomeDraft, outcomeOf, whyNoStops } from './outcome.ts';

/** Stops to a hundredth, which is more than a hand at a timer knows. */
const roundedStops = (stops: number): string => stopsText(Math.round(Math.abs(stops) * 100) / 100);

const missedText = (stops: number): string =>
  Math.abs(stops) < 0.005
    ? words.today.missedNothing
    : words.today.missedBy[stops > 0 ? 'deeper' : 'paler'](roundedStops(stops));

const outcomeText = (made: Print): string => {
  const { reachedL, reachedUL, judged, missedStops } = made;
  if (reachedL === null) return judged === null ? words.today.notJudged : words.today.hows[judged];
  const u = reachedUL === null ? '' : ` ± ${formatNumber(reachedUL, 1)}`;
  const untold = whyNoStops(made);
  return [
    `L* ${formatNumber(reachedL, 1)}${u}`,
    missedStops !== null && missedText(missedStops),
    untold && words.today.untold[untold],
  ]
    .filter(Boolean)
    .join(' · ');
};

const OutcomeForm = ({ made, onDone }: { made: Print; onDone: () => void }) => {
  const draft = useMemo(() => outcomeDraft(made), [made.id]);
  const tried = useSignal(false);
  const { failure, act } = useActing();
  return (
    <form
      noValidate
      class="keep-form"
      onSubmit={async (event) => {
        event.preventDefault();
        tried.value = true;
        const said = outcomeOf(draft);
        if (!isOutcome(said)) return;
        const { reachedL, reachedUL, judged } = made;
        const done = await act(() => sayOutcome(made.id, said));
        if (!done) return;
        onDone();
        tell(words.today.outcomeNoted, () =>
          act(() => sayOutcome(made.id, { reachedL, reachedUL, judged }).then(onDone)),
        );
      }}
    >
      <OutcomeFields draft={draft} tried={tried.value} />
      <button type="submit">{words.today.sayReached}</button>
      {failure.value && <ProblemNote failure={failure.value} entered />}
    </form>
  );
};

const PrintRow = ({ made, again }: { made: Print; again: () => void }) => {
  const open = useSignal(false);
  const { failure, swap } = useAway('print', again);
  const date = formatMoment(Date.parse(made.exposedAt));
  const isAway = made.putAwayAt !== null;
  const what = made.name || words.book.purposes.print;
  const said = made.reachedL !== null || made.judged !== null;
  return (
    <li class="print-row">
      <span class="book-words">
        <strong>{formatTime(made.secondsUsed)}</strong>
        <span class="fine">{[made.name, date, isAway && words.book.isAway].filter(Boolean).join(' · ')}</span>
        <span>
          {made.predictedL === null
            ? words.today.nothingPromised
            : words.today.promisedShort(
                formatNumber(made.predictedL, 1),
                made.predictedDepthPercent === null ? '–' : formatNumber(made.predictedDepthPercent, 0),
              )}
        </span>
        <span>{outcomeText(made)}</span>
        {made.remark !== '' && <span class="fine">{made.remark}</span>}
      </span>
      <span class="book-tools">
        {!isAway && (
          <button
            type="button"
            aria-expanded={open.value}
            aria-label={`${said ? words.today.correct : words.today.sayReached}: ${what}, ${date}`}
            onClick={() => {
              open.value = !open.value;
            }}
          >
            {said ? words.today.correct : words.today.sayReached}
          </button>
        )}
        <button
          type="button"
          class="quiet"
          aria-label={`${isAway ? words.book.bringBack : words.book.putAway}: ${what}, ${date}`}
          onClick={() => swap(made.id, what, isAway)}
        >
          {isAway ? words.book.bringBack : words.book.putAway}
        </button>
      </span>
      {open.value && (
        <OutcomeForm
          made={made}
          onDone={() => {
            open.value = false;
            again();
          }}
        />
      )}
      {failure.value && <ProblemNote failure={failure.value} />}
    </li>
  );
};

/** Do prints come out as promised? Measured ones by how far, those judged by eye by which side. */
const Lean = ({ feedback: { missedStops, biased, byEye } }: { feedback: Feedback }) => {
  const { value, low, high } = missedStops;
  const { paler, right, deeper, leans } = byEye;
  // The words say the side, so both ends are turned to it.
  const [least, most] = (value ?? 0) < 0 ? [-(high ?? 0), -(low ?? 0)] : [low ?? 0, high ?? 0];
  return (
    <div class="print-lean">
      <p>
        {value === null || low === null || high === null
          ? words.today.noBias
          : words.today.bias(missedText(value), formatNumber(least, 2), formatNumber(most, 2), biased)}
      </p>
      {paler + right + deeper > 0 && (
        <p>
          {words.today.byEye(formatNumber(paler, 0), formatNumber(right, 0), formatNumber(deeper, 0))}{' '}
          {leans === null ? words.today.noLean : words.today.leans[leans]}
        </p>
      )}
    </div>
  );
};

/** Prints made for one use, newest first, and whether they come out as promised. */
export const Prints = ({
  list: { prints, total },
  feedback,
  away,
  again,
  onMore,
}: {
  list: PrintList;
  feedback: Feedback;
  away: Signal<boolean>;
  again: () => void;
  onMore: () => void;
}) => (
  <>
    {prints.length === 0 ? (
      <p class="fine">{words.today.noPrints}</p>
    ) : (
      <>
        <Lean feedback={feedback} />
        <ul class="book-list">
          {prints.map((made) => (
            <PrintRow key={made.id} made={made} again={again} />
          ))}
        </ul>
        {prints.length < total && (
          <p>
            <span class="fine">
              {words.book.count(formatNumber(prints.length, 0), formatNumber(total, 0))}
            </span>{' '}
            <button type="button" onClick={onMore}>
              {words.book.more}
            </button>
          </p>
        )}
      </>
    )}
    <Tick label={words.book.showAway} value={away} />
  </>
);
