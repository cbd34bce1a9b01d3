import type { Context, Handler } from 'hono';
import { streamSSE } from 'hono/streaming';
import { photoFormat } from '../../analysis/photo/format.ts';
import type { PreviewAnswer } from '../contracts/answers.ts';
import type { InboxReceipt } from '../contracts/pairing.ts';
import type { Door } from '../door.ts';
import { readForm } from '../formFields.ts';
import type { Inbox } from '../inbox.ts';
import type { Pairing } from '../pairing.ts';
import type { PhotoPreviews } from '../photoPreviews.ts';
import { Refusal } from '../refusal.ts';
import { visitorOf } from '../visitor.ts';

const MOST_LISTENERS = 96;
const BEAT_MS = 15_000;

/** POST /api/inbox: a form with `photo`. 201 means that it is kept, 200 that it was there already. */
export const postInbox =
  (inbox: Inbox, door: Door, pairing: Pairing): Handler =>
  async (c) => {
    const visitor = visitorOf(c, door, pairing);
    const form = await readForm(c);
    const bytes = await form.photo();
    const receipt: InboxReceipt = await inbox.put({
      bytes,
      name: form.photoName(),
      format: photoFormat(bytes),
      from: visitor.kind === 'phone' ? visitor.phone.name : 'this computer',
    });
    return c.json(receipt, receipt.already ? 200 : 201);
  };

/** GET /api/inbox: what phones have sent. */
export const getInbox =
  (inbox: Inbox): Handler =>
  async (c) =>
    c.json(await inbox.list());

const gone = (): never => {
  throw new Refusal('not-found', 'This photo is no longer in the inbox. Send it again from the phone.');
};

/** GET /api/inbox/:id/photo: the bytes as they were sent, never as a page of this site. */
export const getInboxPhoto =
  (inbox: Inbox): Handler =>
  async (c) => {
    const { bytes, format } = (await inbox.bytesOf(c.req.param('id') ?? '')) ?? gone();
    return c.body(new Uint8Array(bytes), 200, {
      'Content-Type': `image/${format}`,
      'Content-Disposition': 'attachment; filename="photo"',
    });
  };

/** GET /api/inbox/:id/preview: its small picture, made where it isn't yet. */
export const getInboxPreview =
  (inbox: Inbox, previews: PhotoPreviews): Handler =>
  async (c) => {
    const { bytes } = (await inbox.bytesOf(c.req.param('id') ?? '')) ?? gone();
    const answer: PreviewAnswer = { preview: await previews.of(bytes, c.req.raw.signal) };
    return c.json(answer);
  };

/** DELETE /api/inbox/:id: takes a photo out. */
export const deleteInboxPhoto =
  (inbox: Inbox): Handler =>
  async (c) => {
    if (!(await inbox.remove(c.req.param('id') ?? ''))) gone();
    return c.json(await inbox.list());
  };

/**
 * GET /api/inbox/events: the whole list at the start and after every change, so that a listener that was cut off has
 * missed nothing once it is back. Phones that come in and go are told of too.
 */
export const getInboxEvents = (inbox: Inbox, pairing: Pairing): Handler => {
  let listeners = 0;
  return (c: Context) => {
    if (listeners >= MOST_LISTENERS)
      throw new Refusal('busy', 'Too many pages are open on Tonestep. Close some, then try again.', 10);
    listeners += 1;
    return streamSSE(c, async (stream) => {
      let wake = (): void => undefined;
      let newPhotos = true;
      let newPhones = true;
      const ends = [
        inbox.watch(() => {
          newPhotos = true;
          wake();
        }),
        pairing.watch(() => {
          newPhones = true;
          wake();
        }),
      ];
      stream.onAbort(() => wake());
      try {
        while (!stream.aborted && !stream.closed) {
          if (newPhotos) {
            newPhotos = false;
            await stream.writeSSE({ event: 'inbox', data: JSON.stringify(await inbox.list()) });
          } else if (newPhones) {
            newPhones = false;
            await stream.writeSSE({ event: 'phones', data: JSON.stringify(pairing.state()) });
          } else {
            const beat = await new Promise<boolean>((resolve) => {
              const timer = setTimeout(() => resolve(true), BEAT_MS);
              wake = () => {
                clearTimeout(timer);
                resolve(false);
              };
            });
            if (beat) await stream.write(': still here\n\n');
          }
        }
      } finally {
        for (const end of ends) end();
        listeners -= 1;
      }
    });
  };
};
