import { chooseLanguage, language } from '../language.ts';
import { timerStepSeconds, timerStepText, writeTimerStep } from '../settings.ts';
import { chooseTheme, chosenTheme, THEMES } from '../theme.ts';
import { LANGUAGES, words } from '../words.ts';
import '../styles/settings.css';

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
      <p class="fine">{words.settings.kept}</p>
    </main>
  );
};
