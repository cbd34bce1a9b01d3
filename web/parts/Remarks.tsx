import type { Phrase } from '../../analysis/phrases.ts';
import { phraseText } from '../sentences/phraseText.ts';
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

/** A sentence of the analysis in the language that is spoken; the English one where that has no words for it. */
export const Said = ({ text, phrase }: { text: string; phrase?: Phrase | undefined }) => {
  const said = phraseText(phrase);
  return said === null ? <EnglishSentence text={text} /> : <span>{said}</span>;
};

/** What stands against something or wants minding: what it is in a word, then the sentence with the numbers. */
export const Warnings = ({
  warnings,
}: {
  warnings: readonly { readonly code: string; readonly message: string; readonly phrase?: Phrase }[];
}) => (
  <ul class="warnings">
    {warnings.map(({ code, message, phrase }) => {
      const said = phraseText(phrase);
      return (
        <li key={code + message}>
          {said === null ? (
            <>
              <strong>{isKnownWarning(code) ? words.warning[code] : words.otherWarning}</strong>{' '}
              <EnglishSentence text={message} />
            </>
          ) : (
            said
          )}
        </li>
      );
    })}
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
