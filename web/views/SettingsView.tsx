import { useEffect, useMemo } from 'preact/hooks';
import type { BookAnswer } from '../../server/contracts/recordUse.ts';
import { chooseLanguage, language } from '../language.ts';
import { formatNumber } from '../numbers.ts';
import { tell } from '../parts/Notice.tsx';
import { TextField, type Written } from '../parts/TextField.tsx';
import { TimerStepField } from '../parts/TimerStepField.tsx';
import { asking } from '../record/ask.ts';
import { fetchBook } from '../record/recordApi.ts';
import {
  givenThreshold,
  THRESHOLD_NAMES,
  THRESHOLDS,
  type Threshold,
  thresholdTexts,
  writeThreshold,
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

const thresholdField = (name: Threshold): Written => ({
  get value() {
    return thresholdTexts.value[name] ?? '';
  },
  set value(text) {
    writeThreshold(name, text);
  },
});

const writeAll = (texts: Partial<Record<Threshold, string>>): void => {
  for (const name of THRESHOLD_NAMES) writeThreshold(name, texts[name] ?? '');
};

/** All thresholds as they usually are, with a way back. */
const toUsual = (): void => {
  const before = thresholdTexts.value;
  writeAll({});
  tell(words.settings.toUsualDone, () => writeAll(before));
};

/** What the page is told once and remembers in this browser. */
export const SettingsView = () => {
  const anyGiven = THRESHOLD_NAMES.some((name) => (thresholdTexts.value[name] ?? '').trim() !== '');
  // Opened where something was set; the fold must not close under a hand.
  const openFirst = useMemo(() => anyGiven, []);
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
        <TimerStepField label={words.settings.timerStep} hint={words.settings.timerStepNote} />
      </div>
      <details class="block thresholds" open={openFirst}>
        <summary>{words.settings.thresholds}</summary>
        <p class="fine">{words.settings.thresholdsNote}</p>
        {THRESHOLD_NAMES.map((name) => (
          <TextField
            key={name}
            label={words.settings.threshold[name]}
            value={thresholdField(name)}
            kind="number"
            placeholder={formatNumber(THRESHOLDS[name].usual, 1)}
            problem={
              Number.isNaN(givenThreshold(name) ?? 0)
                ? words.settings.thresholdWrong(formatNumber(THRESHOLDS[name].most, 0))
                : null
            }
          />
        ))}
        {anyGiven && (
          <button type="button" class="quiet" onClick={toUsual}>
            {words.settings.toUsual}
          </button>
        )}
      </details>
      <DataPlace />
      <p class="fine">{words.settings.kept}</p>
    </main>
  );
};
