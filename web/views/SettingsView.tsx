import { useEffect, useMemo } from 'preact/hooks';
import type { BookAnswer } from '../../server/contracts/recordUse.ts';
import { chooseLanguage, language } from '../language.ts';
import { formatNumber } from '../numbers.ts';
import { asking } from '../record/ask.ts';
import { fetchBook } from '../record/recordApi.ts';
import {
  givenThreshold,
  THRESHOLD_NAMES,
  THRESHOLDS,
  thresholdTexts,
  timerStepSeconds,
  timerStepText,
  writeThreshold,
  writeTimerStep,
} from '../settings.ts';
import { chooseTheme, chosenTheme, THEMES } from '../theme.ts';
import { LANGUAGES, words } from '../words.ts';
import '../styles/choices.css';
import '../styles/settings.css';

/** Where the book lies on this computer's disk. */
const DataPlace = () => {
  const { answer, ask } = useMemo(() => asking<BookAnswer>(), []);
  useEffect(() => {
    ask(fetchBook);
  }, []);
  const book = answer.value?.kind === 'here' ? answer.value.value : null;
  if (!book) return null;
  return (
    <section class="block" aria-labelledby="place-heading">
      <h2 id="place-heading">{words.archive.place}</h2>
      <p>{book.place === null ? words.archive.placeHidden : <code>{book.place}</code>}</p>
    </section>
  );
};

/** What the page is told once and remembers in this browser. */
export const SettingsView = () => {
  const stepWrong = timerStepText.value.trim() !== '' && timerStepSeconds() === null;
  return (
    <main class="settings-view" id="main" tabIndex={-1}>
      <h1>{words.settings.heading}</h1>
      <fieldset class="block">
        <legend>{words.settings.language}</legend>
        <div class="choices">
          {LANGUAGES.map((name) => (
            <button
              key={name}
              type="button"
              lang={name}
              aria-pressed={language.value === name}
              onClick={() => chooseLanguage(name)}
            >
              {words.settings.languages[name]}
            </button>
          ))}
        </div>
      </fieldset>
      <fieldset class="block">
        <legend>{words.settings.theme}</legend>
        <div class="choices">
          {THEMES.map((name) => (
            <button
              key={name}
              type="button"
              aria-pressed={chosenTheme.value === name}
              onClick={() => chooseTheme(name)}
            >
              {words.settings.themes[name]}
            </button>
          ))}
        </div>
        <p class="fine">{words.settings.themeNote}</p>
      </fieldset>
      <div class="block">
        <label class="field">
          <span>{words.settings.timerStep}</span>
          <input
            value={timerStepText.value}
            inputMode="decimal"
            aria-describedby="timer-note"
            aria-invalid={stepWrong}
            onInput={(event) => writeTimerStep(event.currentTarget.value)}
          />
        </label>
        <p class="fine" id="timer-note">
          {words.settings.timerStepNote}
        </p>
        {stepWrong && (
          <p class="field-problem" role="alert">
            {words.plan.noTimerStep}
          </p>
        )}
      </div>
      <details class="block thresholds">
        <summary>{words.settings.thresholds}</summary>
        <p class="fine">{words.settings.thresholdsNote}</p>
        {THRESHOLD_NAMES.map((name) => {
          const wrong = Number.isNaN(givenThreshold(name) ?? 0);
          return (
            <label key={name} class="field">
              <span>{words.settings.threshold[name]}</span>
              <input
                value={thresholdTexts.value[name] ?? ''}
                inputMode="decimal"
                placeholder={formatNumber(THRESHOLDS[name].usual, 1)}
                aria-invalid={wrong}
                onInput={(event) => writeThreshold(name, event.currentTarget.value)}
              />
              {wrong && (
                <span class="field-problem" role="alert">
                  {words.settings.thresholdWrong(formatNumber(THRESHOLDS[name].most, 0))}
                </span>
              )}
            </label>
          );
        })}
      </details>
      <DataPlace />
      <p class="fine">{words.settings.kept}</p>
    </main>
  );
};
