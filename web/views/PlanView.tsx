import { useComputed } from '@preact/signals';
import type { StripPlan } from '../../analysis/plan/plan.ts';
import { goTo } from '../address.ts';
import { draft } from '../draft.ts';
import { fillTimes } from '../fillTimes.ts';
import { Notes, Said, Warnings } from '../parts/Remarks.tsx';
import { PlanForm } from '../plan/PlanForm.tsx';
import { planDraft } from '../plan/planDraft.ts';
import { type Planned, planDrafted } from '../plan/planned.ts';
import { keepPrinted, named, type PrintedPlan } from '../plan/planShelf.ts';
import { beginToKeepPlan } from '../plan/planStore.ts';
import { isUnderWay, loadRun, run } from '../run/run.ts';
import { moveText } from '../sentences/moveText.ts';
import { labelText, seriesText, stopsAbove } from '../sentences/planText.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import '../styles/plan.css';
import '../styles/table.css';

const whyNot = (planned: Exclude<Planned, { kind: 'plan' }>) => {
  switch (planned.kind) {
    case 'no-time':
      return words.plan.noTime(planned.text);
    case 'no-stops':
      return words.plan.noStops(planned.text);
    case 'no-reading':
      return words.plan.noReading;
    case 'open':
      return words.plan.toFill;
    case 'refused':
      return (
        <>
          {words.language === 'en' || planned.phrase ? '' : `${words.errors['plan-invalid'].next} `}
          <Said text={planned.message} phrase={planned.phrase ?? undefined} />
        </>
      );
  }
};

const Steps = ({ plan }: { plan: StripPlan }) => (
  <section aria-labelledby="series-heading">
    <h3 id="series-heading">{words.plan.series}</h3>
    <table class="plan-table">
      <thead>
        <tr>
          <th scope="col">{words.plan.step}</th>
          <th scope="col">{words.plan.time}</th>
          <th scope="col">{words.plan.above}</th>
          <th scope="col">{words.plan.label}</th>
        </tr>
      </thead>
      <tbody>
        {plan.steps.map((step) => (
          <tr key={step.step}>
            <th scope="row">{step.step}</th>
            <td class="plan-time">{step.seconds === 0 ? words.run.base : formatTime(step.seconds)}</td>
            <td>{stopsAbove(step)}</td>
            <td class="plan-label">{labelText(step, draft.dye.value.trim())}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </section>
);

const Moves = ({ plan }: { plan: StripPlan }) => (
  <section aria-labelledby="moves-heading">
    <h3 id="moves-heading">{words.plan.moves}</h3>
    <table class="plan-table">
      <thead>
        <tr>
          <th scope="col">{words.plan.clock}</th>
          <th scope="col">{words.plan.toDo}</th>
        </tr>
      </thead>
      <tbody>
        {plan.moves.map((move, i) => (
          <tr key={i}>
            <th scope="row" class="plan-time">
              {formatTime(move.atSeconds)}
            </th>
            <td>{moveText(plan, i)}</td>
          </tr>
        ))}
      </tbody>
    </table>
    <p>{words.plan.lampTime(formatTime(plan.lampSeconds))}</p>
    {plan.places && <p>{words.plan.places(plan.places.join(', '))}</p>}
  </section>
);

/** The plan under the id that its sheet bears. */
const printedOf = (plan: StripPlan): PrintedPlan =>
  named({
    dye: draft.dye.value.trim(),
    cloth: draft.cloth.value.trim(),
    light: draft.light.value.trim(),
    plan,
  });

/** The measuring sheet for this plan: names and times stand on it, and a code by which a photo finds the plan. */
const sheetHref = ({ id, plan }: PrintedPlan, paper: 'a4' | 'letter'): string => {
  const query = new URLSearchParams({
    paper,
    language: words.language,
    plan: id,
    seconds: plan.steps.map(({ seconds }) => seconds).join(','),
  });
  for (const name of ['dye', 'cloth', 'light'] as const) {
    const text = draft[name].value.trim().slice(0, 80);
    if (text !== '') query.set(name, text);
  }
  return `/api/sheets?${query}`;
};

const Ways = ({ plan }: { plan: StripPlan }) => {
  const busy = isUnderWay(run.value);
  const printed = printedOf(plan);
  return (
    <div class="plan-ways">
      <button
        type="button"
        class="primary"
        disabled={busy}
        onClick={() => {
          loadRun({
            dye: draft.dye.value.trim(),
            cloth: draft.cloth.value.trim(),
            light: draft.light.value.trim(),
            lightKind: planDraft.light.value,
            stopsAtMoves: planDraft.lampOff.value && plan.layout.kind === 'strip',
            layout: plan.layout,
            lampSeconds: plan.lampSeconds,
            moves: plan.moves.map(({ atSeconds, action, step }) => ({ atSeconds, action, step })),
            lit: plan.bursts.map(({ litSteps }) => litSteps),
            steps: plan.steps.map(({ step, seconds }) => ({ step, seconds })),
          });
          goTo('run');
        }}
      >
        {words.plan.toRun}
      </button>
      <button
        type="button"
        onClick={() => {
          fillTimes(plan.steps.map(({ seconds }) => seconds));
          goTo('read');
        }}
      >
        {words.plan.toRead}
      </button>
      <button type="button" onClick={() => print()}>
        {words.plan.print}
      </button>
      {(['a4', 'letter'] as const).map((paper) => (
        <a
          key={paper}
          class="pick"
          href={sheetHref(printed, paper)}
          target="_blank"
          rel="noopener"
          onClick={() => keepPrinted(printed)}
          onAuxClick={() => keepPrinted(printed)}
        >
          {paper === 'a4' ? words.plan.sheetA4 : words.plan.sheetLetter}
        </a>
      ))}
      <p class="fine">{words.plan.sheetNote}</p>
      {busy && <p class="field-problem">{words.plan.toRunWhileRunning}</p>}
    </div>
  );
};

/** A strip before it is made: what is known goes in, times, moves, labels and what to mind come out. */
export const PlanView = () => {
  beginToKeepPlan();
  const planned = useComputed(planDrafted).value;
  return (
    <main class="plan-view" id="main" tabIndex={-1}>
      <h1>{words.plan.heading}</h1>
      <div class="plan-columns">
        <PlanForm />
        <section class="plan-made" aria-labelledby="made-heading">
          <h2 id="made-heading">{words.plan.made}</h2>
          {planned.kind === 'plan' ? (
            <>
              <p class="plan-series" role="status">
                {words.language === 'en' && planDraft.start.value === 'curve'
                  ? planned.plan.reason
                  : seriesText(planned.plan)}
              </p>
              <Ways plan={planned.plan} />
              {planned.plan.warnings.length > 0 && <Warnings warnings={planned.plan.warnings} />}
              <Steps plan={planned.plan} />
              <Moves plan={planned.plan} />
              <section aria-labelledby="notes-heading">
                <h3 id="notes-heading">{words.plan.notes}</h3>
                <Notes notes={planned.plan.notes} />
              </section>
            </>
          ) : (
            <p class="field-problem" role="status">
              {planned.kind !== 'open' && <strong>{words.plan.problem}: </strong>}
              {whyNot(planned)}
            </p>
          )}
        </section>
      </div>
    </main>
  );
};
