import { Choice } from '../parts/Choice.tsx';
import { TextField } from '../parts/TextField.tsx';
import { words } from '../words.ts';
import { type How, isOutcome, type OutcomeDraft, outcomeOf } from './outcome.ts';

const HOWS: readonly How[] = ['', 'paler', 'right', 'deeper', 'measured'];

/** How a print came out: by eye, or by its measured L*. */
export const OutcomeFields = ({ draft, tried }: { draft: OutcomeDraft; tried: boolean }) => {
  const said = outcomeOf(draft);
  const problems = tried && !isOutcome(said) ? said : { L: false, u: false };
  return (
    <>
      <Choice
        label={words.today.how}
        value={draft.how}
        options={HOWS.map((how) => [how, how === '' ? words.today.notJudged : words.today.hows[how]])}
      />
      {draft.how.value === 'measured' && (
        <>
          <TextField
            label={words.today.measuredL}
            value={draft.L}
            kind="number"
            problem={problems.L ? words.today.reachedWrong : null}
          />
          <TextField
            label={words.today.measuredU}
            value={draft.u}
            kind="number"
            placeholder={words.keep.notNoted}
            problem={problems.u ? words.today.measuredUWrong : null}
          />
        </>
      )}
    </>
  );
};
