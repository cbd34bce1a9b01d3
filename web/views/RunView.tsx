import { useSignal } from '@preact/signals';
import { goTo } from '../address.ts';
import { draft } from '../draft.ts';
import { fillTimes } from '../fillTimes.ts';
import { tell } from '../parts/Notice.tsx';
import { screenAwake } from '../run/awake.ts';
import { PhaseSign } from '../run/Phase.tsx';
import { phaseOf, type ShownPhase } from '../run/phaseOf.ts';
import { bringBackRun, isUnderWay, run, runBefore, setRun, startOver } from '../run/run.ts';
import {
  lastTap,
  type MoveStatus,
  momentOf,
  type Run,
  type RunEvent,
  type RunStatus,
  statusOf,
  withEvent,
  withoutLastTap,
} from '../run/runLog.ts';
import { StripNow } from '../run/StripNow.tsx';
import { closeSound, openSound, soundState, trySound } from '../run/sound.ts';
import { beginToTick, now } from '../run/ticker.ts';
import { moveText } from '../sentences/moveText.ts';
import { stopsText } from '../sentences/stopsText.ts';
import { dim, dimmed } from '../theme.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import '../styles/run.css';
import '../styles/table.css';

const add = (event: RunEvent): void => {
  if (run.value) setRun(withEvent(run.value, event));
};

/** What a tap was, as its button said it. */
const tapName = (of: Run, tap: RunEvent): string => {
  const end = of.plan.moves.length - 1;
  switch (tap.kind) {
    case 'on':
      return of.events.find(({ kind }) => kind === 'on') === tap ? words.run.start : words.run.resume;
    case 'off':
      return words.run.pause;
    case 'on-time':
      return tap.move === end ? words.run.offOnTime : words.run.onTime;
    default:
      return 'move' in tap && tap.move === end ? words.run.offNow : words.run.made;
  }
};

/** A difference that a reading could not tell is none. */
const SAME_STOPS = 0.02;

const differenceText = (planned: number, real: number): string => {
  if (planned === 0 || real === 0) return planned === real ? words.run.asPlanned : `+${formatTime(real)}`;
  const stops = Math.log2(real / planned);
  if (Math.abs(stops) < SAME_STOPS) return words.run.asPlanned;
  return `${stops > 0 ? '+' : '−'}${stopsText(Math.abs(stops))}`;
};

const MOVE_SIGNS: Readonly<Record<MoveStatus['state'], string>> = {
  made: '✓',
  told: '→',
  missed: '!',
  coming: '·',
};

const moveState = (move: MoveStatus): string => {
  if (move.state === 'missed') return words.run.state.missed;
  if (move.state === 'told') return words.run.state.now;
  if (move.state !== 'made' || move.madeSeconds === null) return '';
  const off = move.madeSeconds - move.dueSeconds;
  if (Math.abs(off) < 1) return words.run.state.made;
  return off > 0 ? words.run.state.late(formatTime(off)) : words.run.state.early(formatTime(-off));
};

const Empty = () => (
  <main class="run-view" id="main" tabIndex={-1}>
    <h1>{words.run.heading}</h1>
    <div class="empty">
      <p class="empty-what">{words.run.empty}</p>
      <p>{words.run.emptyNext}</p>
      <button type="button" class="primary" onClick={() => goTo('plan')}>
        {words.run.toPlan}
      </button>
      {runBefore.value && (
        <button type="button" onClick={bringBackRun}>
          {words.run.bringBack}
        </button>
      )}
    </div>
  </main>
);

/** The clock itself: what to do, how long until then, how long the light has burned. */
const Clock = ({ of, status, phase }: { of: Run; status: RunStatus; phase: ShownPhase }) => {
  const { plan } = of;
  const end = plan.moves.length - 1;
  const { move, untilSeconds } = phase;
  return (
    <section class={`clock phase-${phase.phase}`} aria-label={words.run.phase[phase.phase]}>
      <div class="phase-line" role="status">
        <PhaseSign phase={phase.phase} />
        <div>
          <p class="phase-word">{words.run.phase[phase.phase]}</p>
          {move !== null && phase.phase !== 'missed' && (
            <p class="phase-move">
              {phase.phase === 'now' || phase.phase === 'ready'
                ? moveText(plan, move)
                : words.run.next(moveText(plan, move))}
            </p>
          )}
          {phase.phase === 'done' && <p class="phase-move">{words.run.done}</p>}
        </div>
      </div>
      <p class={plan.lampSeconds >= 6000 ? 'clock-figures long' : 'clock-figures'}>
        {formatTime(
          phase.phase === 'ready'
            ? plan.lampSeconds
            : untilSeconds === null
              ? Math.floor(status.lampSeconds)
              : Math.ceil(untilSeconds),
        )}
      </p>
      <p class="clock-under">
        {untilSeconds !== null && (
          <span>{status.next === end ? words.run.untilEnd : words.run.until} · </span>
        )}
        {phase.phase === 'ready'
          ? words.plan.lampTime(formatTime(plan.lampSeconds))
          : words.run.lampClock(formatTime(Math.floor(status.lampSeconds)), formatTime(plan.lampSeconds))}
      </p>
    </section>
  );
};

const Missed = ({ of, status, move }: { of: Run; status: RunStatus; move: number }) => {
  const { plan, events } = of;
  const due = plan.moves[move].atSeconds;
  const moment = momentOf(events, due, now.value) ?? now.value;
  const end = move === plan.moves.length - 1;
  return (
    <div class="problem" role="alert">
      <div>
        <p class="problem-what">
          {words.run.missedWhat(
            moveText(plan, move),
            formatTime(status.moves[move].dueSeconds),
            formatTime(Math.max(0, Math.round((now.value - moment) / 1000))),
          )}
        </p>
        <p>{words.run.missedNext}</p>
        <div class="run-taps">
          <button type="button" class="primary" onClick={() => add({ kind: 'made', move, at: Date.now() })}>
            {end ? words.run.offNow : words.run.movedNow}
          </button>
          <button type="button" onClick={() => add({ kind: 'on-time', move, at: Date.now() })}>
            {end ? words.run.offOnTime : words.run.onTime}
          </button>
        </div>
      </div>
    </div>
  );
};

const WARM_SECONDS = 600;

const WarmUp = () => {
  const since = useSignal<number | null>(null);
  if (since.value === null)
    return (
      <button
        type="button"
        onClick={() => {
          since.value = Date.now();
        }}
      >
        {words.run.warmUpStart}
      </button>
    );
  const seconds = Math.max(0, Math.floor((now.value - since.value) / 1000));
  return (
    <p class="warm-up">
      <span>{seconds >= WARM_SECONDS ? words.run.warmUpDone : words.run.warmUpFor(formatTime(seconds))}</span>
      <button
        type="button"
        class="quiet"
        onClick={() => {
          since.value = null;
        }}
      >
        {words.run.warmUpStop}
      </button>
    </p>
  );
};

const Taps = ({ of, status, phase }: { of: Run; status: RunStatus; phase: ShownPhase }) => {
  const { plan } = of;
  const end = plan.moves.length - 1;
  const { next } = status;
  const lateMove = phase.phase === 'now' && phase.move !== null && phase.move !== next ? phase.move : null;
  if (status.phase === 'done')
    return (
      <>
        <button
          type="button"
          class="primary huge"
          onClick={() => {
            const seconds = status.exposures.map(({ realSeconds }) => realSeconds);
            fillTimes(seconds, () => {
              draft.fromRun.value = true;
              if (plan.dye) draft.dye.value = plan.dye;
              if (plan.cloth) draft.cloth.value = plan.cloth;
              if (plan.light) draft.light.value = plan.light;
            });
            goTo('read');
          }}
        >
          {words.run.toRead}
        </button>
        <p>{words.run.doneNote}</p>
      </>
    );
  if (status.phase === 'ready')
    return (
      <>
        <button
          type="button"
          class="primary huge"
          onClick={() => {
            add({ kind: 'on', at: Date.now() });
            openSound();
          }}
        >
          {words.run.start}
        </button>
        <p class="fine">{words.run.startNote}</p>
        {plan.lightKind !== 'sun' && plan.lightKind !== 'led' && <WarmUp />}
      </>
    );
  if (status.phase === 'dark')
    return (
      <button
        type="button"
        class="primary huge"
        onClick={() => {
          add({ kind: 'on', at: Date.now() });
          openSound();
        }}
      >
        {words.run.resume}
      </button>
    );
  return (
    <>
      {next !== null && phase.phase === 'now' && phase.move === next && (
        <button
          type="button"
          class="primary huge"
          onClick={() => add({ kind: 'made', move: next, at: Date.now() })}
        >
          {next === end ? words.run.offNow : words.run.made}
        </button>
      )}
      {lateMove !== null && (
        <button
          type="button"
          class="huge"
          onClick={() => add({ kind: 'made', move: lateMove, at: Date.now() })}
        >
          {words.run.madeLate}
        </button>
      )}
      {next !== null && next !== end && (phase.phase === 'wait' || phase.phase === 'soon') && (
        <button type="button" class="huge" onClick={() => add({ kind: 'made', move: next, at: Date.now() })}>
          {words.run.madeEarly}
        </button>
      )}
      <button type="button" onClick={() => add({ kind: 'off', at: Date.now() })}>
        {words.run.pause}
      </button>
    </>
  );
};

/** Sound, brightness, hands: how the clock makes itself known. */
const Manner = ({ of }: { of: Run }) => {
  const sound = soundState.value;
  return (
    <section class="manner" aria-labelledby="manner-heading">
      <h2 id="manner-heading">{words.run.sound}</h2>
      {sound === 'lost' && isUnderWay(of) && <p class="field-problem">{words.run.soundLost}</p>}
      <div class="run-taps">
        <button
          type="button"
          aria-pressed={sound === 'on'}
          onClick={() => (sound === 'on' ? closeSound() : openSound())}
        >
          {sound === 'on' ? words.run.soundOn : sound === 'lost' ? words.run.soundAgain : words.run.soundOff}
        </button>
        <button type="button" onClick={trySound}>
          {words.run.soundTry}
        </button>
        <button type="button" aria-pressed={dimmed.value} onClick={() => dim(!dimmed.value)}>
          {words.run.dim}
        </button>
      </div>
      <p class="fine">{words.run.soundNote}</p>
      {dimmed.value && <p class="fine">{words.run.dimNote}</p>}
      <label class="tick-box">
        <input
          type="checkbox"
          checked={of.handsFree}
          onChange={(event) => setRun({ ...of, handsFree: event.currentTarget.checked })}
        />
        <span>{words.run.handsFree}</span>
      </label>
      {!of.handsFree && <p class="fine">{words.run.handsFreeNote}</p>}
      {screenAwake.value !== null && (
        <p class="fine">{screenAwake.value ? words.run.awake : words.run.notAwake}</p>
      )}
      <p class="fine">{words.run.offline}</p>
    </section>
  );
};

const MoveList = ({ of, status }: { of: Run; status: RunStatus }) => (
  <section aria-labelledby="run-moves-heading">
    <h2 id="run-moves-heading">{words.run.moves}</h2>
    <ol class="run-moves">
      {status.moves.map((move, i) => (
        <li key={i} class={`move-${move.state}`} aria-current={i === status.next ? 'step' : undefined}>
          <span class="move-sign" aria-hidden="true">
            {MOVE_SIGNS[move.state]}
          </span>
          <span class="move-clock">{formatTime(move.dueSeconds)}</span>
          <span>
            {moveText(of.plan, i)} <span class="fine">{i > 0 && moveState(move)}</span>
          </span>
        </li>
      ))}
    </ol>
  </section>
);

const Exposures = ({ status }: { status: RunStatus }) => (
  <section aria-labelledby="exposures-heading">
    <h2 id="exposures-heading">{words.run.exposures}</h2>
    <table class="plan-table">
      <thead>
        <tr>
          <th scope="col">{words.plan.step}</th>
          <th scope="col">{words.run.planned}</th>
          <th scope="col">{words.run.real}</th>
          <th scope="col">{words.run.difference}</th>
        </tr>
      </thead>
      <tbody>
        {status.exposures.map(({ step, plannedSeconds, realSeconds }) => {
          const growing = status.phase !== 'done' && status.open.includes(step);
          return (
            <tr key={step}>
              <th scope="row">{step === 0 ? words.run.base : step}</th>
              <td>{formatTime(plannedSeconds)}</td>
              <td class="plan-time">{formatTime(growing ? Math.floor(realSeconds) : realSeconds)}</td>
              <td>
                {growing || (realSeconds === 0 && plannedSeconds > 0)
                  ? words.run.soFar
                  : differenceText(plannedSeconds, realSeconds)}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  </section>
);

/** A strip while it is made. */
export const RunView = () => {
  beginToTick();
  const of = run.value;
  if (!of) return <Empty />;
  const status = statusOf(of, now.value);
  const phase = phaseOf(of, status);
  const tap = lastTap(of);
  const { dye, cloth } = of.plan;
  return (
    <main class="run-view" id="main" tabIndex={-1}>
      <h1>
        {words.run.heading}
        {(dye || cloth) && <span class="on-cloth"> {[dye, cloth].filter(Boolean).join(' · ')}</span>}
      </h1>
      <div class="run-columns">
        <div class="run-main">
          <Clock of={of} status={status} phase={phase} />
          {phase.phase === 'missed' && phase.move !== null && (
            <Missed of={of} status={status} move={phase.move} />
          )}
          <div class="run-taps">
            <Taps of={of} status={status} phase={phase} />
            {tap && (
              <button type="button" class="quiet" onClick={() => setRun(withoutLastTap(of))}>
                {words.run.undo(tapName(of, tap))}
              </button>
            )}
          </div>
          <StripNow plan={of.plan} open={status.phase === 'lit' ? status.open : []} />
          <Manner of={of} />
        </div>
        <div class="run-side">
          <MoveList of={of} status={status} />
          {status.phase !== 'ready' && <Exposures status={status} />}
          <div class="run-taps">
            {status.phase !== 'ready' && (
              <button
                type="button"
                onClick={() => {
                  startOver();
                  tell(words.run.startedOver, () => {
                    bringBackRun();
                    tell(words.run.restored);
                  });
                }}
              >
                {words.run.again}
              </button>
            )}
            {runBefore.value && status.phase === 'ready' && (
              <button type="button" onClick={bringBackRun}>
                {words.run.bringBack}
              </button>
            )}
            <button type="button" onClick={() => goTo('plan')}>
              {words.run.toPlan}
            </button>
          </div>
        </div>
      </div>
    </main>
  );
};
