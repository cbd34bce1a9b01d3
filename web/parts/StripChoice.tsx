import { goTo } from '../address.ts';
import { demoText } from '../sentences/demoText.ts';
import { demos, shown } from '../session.ts';
import { shelf } from '../shelf/shelf.ts';
import { words } from '../words.ts';
import { stripName } from './stripName.ts';

/** Which strip is on show: one's own, newest first, then the demos. */
export const StripChoice = () => {
  const now = shown.value;
  if (demos.value.length + shelf.value.length === 0) return null;
  return (
    <label class="strip-choice">
      <span class="unseen">{words.frame.strips}</span>
      <select
        value={now?.key ?? ''}
        onChange={(event) => {
          const { value } = event.currentTarget;
          if (value !== '') goTo('answer', value);
        }}
      >
        {!now && <option value="">{words.frame.strips}</option>}
        {now?.kept && (
          <option value={now.key}>
            {stripName({ strip: now.strip, readAt: Date.parse(now.kept.line.readAt) })}
          </option>
        )}
        {shelf.value.length > 0 && (
          <optgroup label={words.frame.ownStrips}>
            {shelf.value.map((strip) => (
              <option key={strip.key} value={strip.key}>
                {stripName(strip)}
              </option>
            ))}
          </optgroup>
        )}
        {demos.value.length > 0 && (
          <optgroup label={words.frame.demos}>
            {demos.value.map((demo) => {
              const { title, inEnglish } = demoText(demo);
              return (
                <option key={demo.id} value={`demo-${demo.id}`} lang={inEnglish ? 'en' : undefined}>
                  {title}
                </option>
              );
            })}
          </optgroup>
        )}
      </select>
    </label>
  );
};
