import { NOTE_CODES, type NoteCode, WARNING_CODES, type WarningCode } from '../words/codes.ts';
import { words } from '../words.ts';

const isKnownWarning = (code: string): code is WarningCode =>
  (WARNING_CODES as readonly string[]).includes(code);
const isKnownNote = (code: string): code is NoteCode => (NOTE_CODES as readonly string[]).includes(code);

/** A sentence that only exists in English: shown as it is to those who read English, else laid behind a word. */
export const EnglishSentence = ({ text }: { text: string }) =>
  words.language === 'en' ? (
    <span>{text}</span>
  ) : (
    <details class="english">
      <summary>{words.frame.inEnglish}</summary>
      <span lang="en">{text}</span>
    </details>
  );

/** What stands against something or wants minding: what it is in a word, then the sentence with the numbers. */
export const Warnings = ({
  warnings,
}: {
  warnings: readonly { readonly code: string; readonly message: string }[];
}) => (
  <ul class="warnings">
    {warnings.map(({ code, message }) => (
      <li key={code + message}>
        <strong>{isKnownWarning(code) ? words.warning[code] : words.otherWarning}</strong>{' '}
        <EnglishSentence text={message} />
      </li>
    ))}
  </ul>
);

/** What to know while working. */
export const Notes = ({ notes }: { notes: readonly { readonly code: string; readonly text: string }[] }) => (
  <ul class="plain-list">
    {notes.map(({ code, text }) => (
      <li key={code}>{isKnownNote(code) ? words.note[code] : <EnglishSentence text={text} />}</li>
    ))}
  </ul>
);
