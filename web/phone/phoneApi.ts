import type {
  ExchangeAnswer,
  InboxReceipt,
  PairingOffer,
  VisitorAnswer,
} from '../../server/contracts/pairing.ts';
import { answered, Failure, send } from '../api.ts';

export const fetchVisitor = async (): Promise<VisitorAnswer> => answered(await send('/api/visitor'));

export const offerPairing = async (): Promise<PairingOffer> =>
  answered(await send('/api/pairing', { method: 'POST' }));

export const endPhone = async (id: string): Promise<void> => {
  await send(`/api/pairing/phones/${encodeURIComponent(id)}`, { method: 'DELETE' });
};

/** Opens the book to a paired phone, or shuts it. */
export const openBookTo = async (id: string, book: boolean): Promise<void> => {
  await send(`/api/pairing/phones/${encodeURIComponent(id)}`, {
    method: 'PATCH',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ book }),
  });
};

export const exchangeCode = async (code: string): Promise<ExchangeAnswer> =>
  answered(
    await send('/api/pairing/exchange', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ code }),
    }),
  );

/** Sends a photo to the computer and says how much of it is on its way, 0..1. */
export const sendToComputer = (photo: File, onShare: (share: number) => void): Promise<InboxReceipt> =>
  new Promise((settle, fail) => {
    const form = new FormData();
    form.set('photo', photo, photo.name);
    // fetch does not tell how far an upload has come.
    const request = new XMLHttpRequest();
    request.open('POST', '/api/inbox');
    request.responseType = 'json';
    request.upload.onprogress = ({ loaded, total }) => onShare(total > 0 ? loaded / total : 0);
    request.onerror = () => fail(new Failure('server-gone'));
    request.onload = () => {
      const body = request.response;
      if (request.status >= 200 && request.status < 300 && body) settle(body);
      else if (body?.error) fail(new Failure(body.error.code, body.error.message, body.error.phrase));
      else fail(new Failure('answer-unreadable', `HTTP ${request.status}`));
    };
    request.send(form);
  });
