import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type {
  InboxAnswer,
  InboxPhoto,
  PairedPhone,
  PairingOffer,
  PairingState,
} from '../../server/contracts/pairing.ts';
import { fetchPhoto } from '../api.ts';
import { draft } from '../draft.ts';
import { addFurther, MOST_FURTHER } from '../furtherPhotos.ts';
import { formatMoment } from '../numbers.ts';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { useActing } from '../record/acting.ts';
import { choosePhoto, work } from '../session.ts';
import { words } from '../words.ts';
import { endPhone, offerPairing, openBookTo } from './phoneApi.ts';
import { visitor } from './visitor.ts';

const fileOf = async ({ photoHref, name }: InboxPhoto): Promise<File> => {
  const bytes = await fetchPhoto(photoHref);
  return new File([bytes], name, { type: bytes.type });
};

const take = async (photo: InboxPhoto): Promise<void> => {
  await choosePhoto(await fileOf(photo));
};

/** On the computer: a square code for the phone, and the photos that phones send, the moment they are there. */
export const UsePhone = () => {
  const offer = useSignal<PairingOffer | null>(null);
  const { failure, act } = useActing();
  const phones = useSignal<readonly PairedPhone[]>([]);
  const photos = useSignal<readonly InboxPhoto[]>([]);
  const reachable = (visitor.value?.addresses.length ?? 0) > 0;

  useEffect(() => {
    if (!reachable) return;
    const events = new EventSource('/api/inbox/events');
    let known: ReadonlySet<string> | null = null;
    events.addEventListener('inbox', (event) => {
      const inbox: InboxAnswer = JSON.parse(event.data);
      const before = known;
      known = new Set(inbox.photos.map(({ id }) => id));
      photos.value = inbox.photos;
      const fresh = before && inbox.photos.find(({ id }) => !before.has(id));
      // What arrives goes straight into the form, unless a photo lies there already.
      if (fresh && draft.photo.value === null && work.value.kind !== 'reading') act(() => take(fresh));
    });
    events.addEventListener('phones', (event) => {
      const state: PairingState = JSON.parse(event.data);
      if (state.phones.length > phones.value.length) offer.value = null;
      phones.value = state.phones;
    });
    return () => events.close();
  }, [reachable]);

  const begin = (): Promise<boolean> =>
    act(async () => {
      offer.value = await offerPairing();
    });

  const now = offer.value;
  return (
    <section class="use-phone" aria-labelledby="phone-heading">
      <h2 id="phone-heading" class="unseen">
        {words.phone.heading}
      </h2>
      {now ? (
        <div class="pairing">
          <img
            src={`data:image/svg+xml,${encodeURIComponent(now.qrSvg)}`}
            alt={words.phone.qr}
            width={220}
            height={220}
          />
          <div>
            <p>{words.phone.scan}</p>
            <dl>
              <dt>{words.phone.address}</dt>
              <dd>
                <code>{now.address}</code>
              </dd>
              <dt>{words.phone.code}</dt>
              <dd>
                <code class="pair-code">{now.code}</code>
              </dd>
            </dl>
            <p class="fine">{words.phone.until(formatMoment(Date.parse(now.expiresAt)))}</p>
            <div class="saves">
              <button type="button" onClick={begin}>
                {words.phone.again}
              </button>
              <button
                type="button"
                class="quiet"
                onClick={() => {
                  offer.value = null;
                }}
              >
                {words.phone.close}
              </button>
            </div>
          </div>
        </div>
      ) : (
        <button type="button" onClick={begin}>
          {words.phone.button}
        </button>
      )}
      {failure.value && <ProblemNote failure={failure.value} />}
      {phones.value.map(({ id, name, book }) => (
        <p key={id} class="paired">
          {words.phone.paired(name)}{' '}
          <label class="tick-box">
            <input
              type="checkbox"
              checked={book}
              onChange={async ({ currentTarget: tick }) => {
                const opened = await act(() => openBookTo(id, tick.checked));
                // The tick says what is so, not what was wished.
                if (!opened) tick.checked = book;
              }}
            />
            {words.phone.mayUseBook}
          </label>{' '}
          <button type="button" class="quiet" onClick={() => act(() => endPhone(id))}>
            {words.phone.end}
          </button>
        </p>
      ))}
      {phones.value.length > 0 && photos.value.length === 0 && (
        <p class="fine" role="status">
          {words.phone.waiting}
        </p>
      )}
      {photos.value.length > 0 && (
        <div role="status">
          <h3>{words.phone.arrived}</h3>
          <ul class="arrived">
            {photos.value.map((photo) => (
              <li key={photo.id}>
                <span>
                  {photo.name} <span class="fine">{formatMoment(Date.parse(photo.receivedAt))}</span>
                </span>
                <button type="button" onClick={() => act(() => take(photo))}>
                  {words.phone.take}
                </button>
                {draft.photo.value && draft.also.value.length < MOST_FURTHER && (
                  <button type="button" onClick={() => act(async () => addFurther(await fileOf(photo)))}>
                    {words.phone.takeFurther}
                  </button>
                )}
              </li>
            ))}
          </ul>
        </div>
      )}
    </section>
  );
};
