import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { goTo } from '../address.ts';
import type { Failure } from '../api.ts';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { failureOf } from '../record/ask.ts';
import { openPage } from '../session.ts';
import { words } from '../words.ts';
import { exchangeCode } from './phoneApi.ts';
import { askVisitor, codeInAddress } from './visitor.ts';

/** What a phone sees first: the place for the code that the computer shows. */
export const PairView = () => {
  const code = useSignal('');
  const busy = useSignal(false);
  const failure = useSignal<Failure | null>(null);
  const pair = async (with_: string): Promise<void> => {
    busy.value = true;
    failure.value = null;
    try {
      await exchangeCode(with_);
      await askVisitor();
      goTo('read');
      openPage();
    } catch (error) {
      failure.value = failureOf(error);
    } finally {
      busy.value = false;
    }
  };
  useEffect(() => {
    const scanned = codeInAddress();
    if (scanned !== null) pair(scanned);
  }, []);
  return (
    <main class="pair-view" id="main" tabIndex={-1}>
      <h1>{words.phone.pairTitle}</h1>
      <form
        class="block"
        onSubmit={(event) => {
          event.preventDefault();
          pair(code.value);
        }}
      >
        <label class="field">
          <span>{words.phone.code}</span>
          <input
            value={code.value}
            autocapitalize="characters"
            autocomplete="one-time-code"
            spellcheck={false}
            onInput={(event) => {
              code.value = event.currentTarget.value;
            }}
          />
        </label>
        <p class="fine">{words.phone.pairNote}</p>
        <button type="submit" class="primary" disabled={busy.value || code.value.trim() === ''}>
          {busy.value ? words.phone.pairing : words.phone.pair}
        </button>
        {failure.value && <ProblemNote failure={failure.value} />}
      </form>
    </main>
  );
};
