import { goTo } from '../address.ts';
import { decimalSign } from '../numbers.ts';
import { Choice } from '../parts/Choice.tsx';
import { NamesField } from '../parts/NamesField.tsx';
import { TextField } from '../parts/TextField.tsx';
import { Tick } from '../parts/Tick.tsx';
import { TimeInput } from '../parts/TimeInput.tsx';
import { TimerStepField } from '../parts/TimerStepField.tsx';
import { parseTimes } from '../times.ts';
import { words } from '../words.ts';
import { DEPTHS, LAYOUTS, LIGHT_KINDS, planDraft, SKY_KINDS, STARTS } from './planDraft.ts';
import { knownCurves } from './planned.ts';

const COUNTS = Array.from({ length: 11 }, (_, i) => String(i + 2));

const Spacing = () => (
  <>
    <TextField label={words.plan.apart} value={planDraft.apart} placeholder={words.plan.usual} />
    <Choice
      label={words.plan.count}
      value={planDraft.count}
      options={[['', words.plan.usual], ...COUNTS.map((count) => [count, count] as const)]}
    />
  </>
);

const StartFields = () => {
  const { start, light, madeFor, madeForSky, sky, depth, reading, times } = planDraft;
  const skies = SKY_KINDS.map((name) => [name, words.plan.skies[name]] as const);
  switch (start.value) {
    case 'nothing':
      return (
        <>
          <TimeInput label={words.plan.first} value={planDraft.first} />
          <Spacing />
        </>
      );
    case 'maker':
      return (
        <>
          <TimeInput label={words.plan.makerTime} value={planDraft.makerTime} />
          <Choice
            label={words.plan.madeFor}
            value={madeFor}
            options={LIGHT_KINDS.map((name) => [name, words.plan.lights[name]])}
          />
          {madeFor.value === 'sun' && light.value === 'sun' && (
            <>
              <Choice label={words.plan.madeForSky} value={madeForSky} options={skies} />
              <Choice label={words.plan.sky} value={sky} options={skies} />
            </>
          )}
          <Spacing />
        </>
      );
    case 'around':
      return (
        <>
          <TimeInput label={words.plan.guess} value={planDraft.guess} />
          <Spacing />
        </>
      );
    case 'curve': {
      const known = knownCurves();
      return known.length === 0 ? (
        <div class="wide">
          <p>{words.plan.noReading}</p>
          <button type="button" onClick={() => goTo('read')}>
            {words.form.heading}
          </button>
        </div>
      ) : (
        <>
          <Choice
            label={words.plan.reading}
            value={reading}
            options={known.map(({ key, name }) => [key, name || words.frame.yourStrip])}
          />
          <Choice
            label={words.plan.depth}
            value={depth}
            options={DEPTHS.map((name) => [
              name,
              name === 'full' ? words.plan.depthFull : words.target.depthLabel(Number(name)),
            ])}
          />
          <Spacing />
        </>
      );
    }
    case 'times': {
      const parsed = parseTimes(times.value, decimalSign() === ',');
      return (
        <TextField
          label={words.plan.times}
          value={times}
          kind="lines"
          hint={words.form.timesHint}
          wrong={!parsed.ok}
          wide
        />
      );
    }
  }
};

/** What is known, what shines, how the steps lie: all that a strip is planned from. */
export const PlanForm = () => {
  const { start, light, layout, lampOff, base } = planDraft;
  const isStrip = layout.value === 'covering' || layout.value === 'uncovering';
  return (
    <form class="plan-form" noValidate onSubmit={(event) => event.preventDefault()}>
      <fieldset class="block">
        <legend>{words.plan.know}</legend>
        <div>
          {STARTS.map((name) => (
            <label key={name} class="card-choice">
              <input
                type="radio"
                name="start"
                checked={start.value === name}
                onChange={() => {
                  start.value = name;
                }}
              />
              <span class="card-words">
                <span>{words.plan.start[name]}</span>
                <span class="fine">{words.plan.startHint[name]}</span>
              </span>
            </label>
          ))}
        </div>
        <div class="plan-fields">
          <StartFields />
        </div>
      </fieldset>
      <div class="block">
        <Choice
          label={words.plan.light}
          value={light}
          options={LIGHT_KINDS.map((name) => [name, words.plan.lights[name]])}
        />
        <Choice
          label={words.plan.layout}
          value={layout}
          options={LAYOUTS.map((name) => [name, words.plan.layouts[name]])}
        />
        {isStrip && <Tick label={words.plan.lampOff} value={lampOff} />}
        <Tick label={words.plan.base} value={base} />
        <TimerStepField label={words.plan.timerStep} placeholder="1" />
      </div>
      <NamesField />
    </form>
  );
};
