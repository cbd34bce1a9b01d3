import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { colourAt, depthPercent } from '../../analysis/curve/evaluate.ts';
import type { Curve } from '../../server/contracts/reading.ts';
import type { Today } from '../../server/contracts/recordUse.ts';
import type { Failure } from '../api.ts';
import { formatNumber } from '../numbers.ts';
import { tell } from '../parts/Notice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { Swatch } from '../parts/Swatch.tsx';
import { TextField } from '../parts/TextField.tsx';
import { TimeInput } from '../parts/TimeInput.tsx';
import { failureOf } from '../record/ask.ts';
import { fieldMoment, momentIn } from '../record/moments.ts';
import { fetchKept, keepPrint, newId, type PrintWish, putAway } from '../record/recordApi.ts';
import { formatTime, parseOneTime } from '../times.ts';
import { words } from '../words.ts';
import { OutcomeFields } from './OutcomeFields.tsx';
import { clearOutcome, isOutcome, outcomeDraft, outcomeOf } from './outcome.ts';

/** What the strip that answers promises for a time, to hold the print against. */
const Promised = ({ curve, seconds }: { curve: Curve; seconds: number }) => {
  const colour = colourAt(curve, seconds);
  return (
    <p class="promised wide">
      <Swatch {...colour} />{' '}
      {words.today.promised(formatNumber(colour.L, 1), formatNumber(depthPercent(curve, colour.L), 0))}
    </p>
  );
};

/** A print is noted by its time alone, and by what came out: no photo of it is needed. */
export const PrintForm = ({
  today,
  wish,
  onKept,
}: {
  /** What was answered, for the time that is offered. */
  today: Today | null;
  wish: Pick<PrintWish, 'dyeId' | 'clothId' | 'lightId' | 'target' | 'batchId' | 'lampHours' | 'sky'>;
  onKept: () => void;
}) => {
  const offered = today?.kind === 'time' ? today.roundedSeconds : null;
  const time = useSignal('');
  const when = useSignal(fieldMoment(Date.now()));
  const name = useSignal('');
  const remark = useSignal('');
  const outcome = useMemo(() => outcomeDraft(), []);
  const curve = useSignal<Curve | null>(null);
  const tried = useSignal(false);
  const busy = useSignal(false);
  const failure = useSignal<Failure | null>(null);
  /** Sent twice, it is kept once. */
  const id = useSignal(newId());
  useEffect(() => {
    if (offered !== null) time.value = formatTime(offered);
  }, [offered]);
  const basisId = today !== null && 'basis' in today ? today.basis.readingId : null;
  const movedStops = today !== null && 'moved' in today ? (today.moved.shiftStops.value ?? 0) : 0;
  useEffect(() => {
    curve.value = null;
    if (basisId === null) return;
    let here = true;
    fetchKept(basisId).then(
      ({ reading }) => {
        if (here && reading.curve.kind === 'fitted') curve.value = reading.curve.curve;
      },
      () => undefined,
    );
    return () => {
      here = false;
    };
  }, [basisId]);
  const seconds = parseOneTime(time.value);
  const at = momentIn(when.value, Date.now());
  const usable = seconds !== null && seconds > 0;
  const keep = async (): Promise<void> => {
    tried.value = true;
    const said = outcomeOf(outcome);
    if (!usable || at === null || !isOutcome(said)) return;
    busy.value = true;
    failure.value = null;
    try {
      const print = await keepPrint({
        ...wish,
        ...said,
        id: id.value,
        ...(name.value.trim() !== '' && { name: name.value.trim() }),
        secondsUsed: seconds,
        exposedAt: new Date(at).toISOString(),
        calibrationId: null,
        remark: remark.value,
      });
      id.value = newId();
      name.value = '';
      remark.value = '';
      clearOutcome(outcome);
      tried.value = false;
      onKept();
      tell(words.today.printKept, () => putAway('print', print.id).then(onKept));
    } catch (error) {
      failure.value = failureOf(error);
    } finally {
      busy.value = false;
    }
  };
  return (
    <form
      noValidate
      class="keep-form print-form"
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
      <p class="fine wide">{words.today.noteWhy}</p>
      <TimeInput label={words.today.usedTime} value={time} />
      <TextField
        label={words.today.when}
        value={when}
        kind="moment"
        wide
        problem={tried.value && at === null ? words.today.whenWrong : null}
      />
      {tried.value && !usable && (
        <p class="field-problem wide" role="alert">
          {words.today.usedWrong}
        </p>
      )}
      {curve.value && usable && <Promised curve={curve.value} seconds={seconds * 2 ** movedStops} />}
      <OutcomeFields draft={outcome} tried={tried.value} />
      <TextField label={words.today.printName} value={name} most={200} />
      <TextField label={words.keep.remark} value={remark} kind="lines" most={10_000} wide />
      {failure.value && <ProblemNote failure={failure.value} entered />}
      <button type="submit" class="wide" disabled={busy.value}>
        {busy.value ? words.keep.keeping : words.today.keepPrint}
      </button>
    </form>
  );
};
