import { useSignal } from '@preact/signals';
import type { Failure } from '../api.ts';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { failureOf } from '../record/ask.ts';
import { words } from '../words.ts';
import { sendToComputer } from './phoneApi.ts';

type Sending =
  | { readonly kind: 'idle' }
  | { readonly kind: 'sending'; readonly share: number }
  | { readonly kind: 'sent'; readonly already: boolean }
  | { readonly kind: 'failed'; readonly failure: Failure };

/** On a paired phone: the camera, and the photo straight onto the computer. */
export const SendPhoto = () => {
  const state = useSignal<Sending>({ kind: 'idle' });
  const sendIt = async (photo: File): Promise<void> => {
    state.value = { kind: 'sending', share: 0 };
    try {
      const { already } = await sendToComputer(photo, (share) => {
        state.value = { kind: 'sending', share };
      });
      state.value = { kind: 'sent', already };
    } catch (error) {
      state.value = { kind: 'failed', failure: failureOf(error) };
    }
  };
  const picker = (label: string, camera: boolean) => (
    <label class={camera ? 'pick primary' : 'pick'}>
      {label}
      <input
        type="file"
        accept="image/*,.heic,.heif"
        {...(camera && { capture: 'environment' })}
        onChange={(event) => {
          const [photo] = event.currentTarget.files ?? [];
          if (photo) sendIt(photo);
          event.currentTarget.value = '';
        }}
      />
    </label>
  );
  const now = state.value;
  return (
    <section class="send-photo" aria-labelledby="send-heading">
      <h2 id="send-heading">{words.phone.ready}</h2>
      <div class="pickers">
        {picker(words.phone.shoot, true)}
        {picker(words.phone.pick, false)}
      </div>
      <div role="status">
        {now.kind === 'sending' && (
          <p class="work">
            <progress value={now.share} max={1} aria-label={words.phone.sending} />
            {words.phone.sending}
          </p>
        )}
        {now.kind === 'sent' && (
          <p class="sent">
            <strong>{now.already ? words.phone.sentAgain : words.phone.sent}</strong>
          </p>
        )}
      </div>
      {now.kind === 'failed' && <ProblemNote failure={now.failure} />}
      <p class="fine">{words.phone.readHere}</p>
    </section>
  );
};
