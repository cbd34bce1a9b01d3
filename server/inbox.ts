import type { InboxAnswer, InboxPhoto } from './contracts/pairing.ts';
import { Refusal } from './refusal.ts';
import { fingerprintOf } from './shelf.ts';

export interface InboxLimits {
  readonly photos: number;
  readonly bytes: number;
  readonly lastsMs: number;
}

export const INBOX_LIMITS: InboxLimits = { photos: 100, bytes: 600_000_000, lastsMs: 12 * 3_600_000 };

export interface Arrival {
  readonly bytes: Uint8Array;
  readonly name: string;
  readonly format: string;
  readonly from: string;
}

/** Photos that phones have sent, until somebody takes them out. Held in memory: a stopped server forgets them. */
export interface Inbox {
  /**
   * Keeps a photo; when this returns it is kept. The same bytes again are the photo that is there already.
   * @throws Refusal `inbox-full`: nothing is pushed out to make room.
   */
  put(arrival: Arrival): { readonly photo: InboxPhoto; readonly already: boolean };
  bytesOf(id: string): { readonly bytes: Uint8Array; readonly format: string } | null;
  /** False where there is no such photo. */
  remove(id: string): boolean;
  list(): InboxAnswer;
  /** Calls back after every change of `list`; returns what ends that. */
  watch(onChange: () => void): () => void;
}

interface Kept {
  readonly photo: InboxPhoto;
  readonly bytes: Uint8Array;
  readonly receivedAt: number;
}

/** A file name for showing: without folders, control signs and what turns the direction of writing; 80 signs at most. */
export const shownName = (name: string): string => {
  const last = name.split(/[/\\]/).at(-1) ?? '';
  const plain = last.replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Zl}\p{Zp}]/gu, '').trim();
  return [...plain].slice(0, 80).join('') || 'photo';
};

export const createInbox = (limits: InboxLimits = INBOX_LIMITS, now: () => number = Date.now): Inbox => {
  const kept = new Map<string, Kept>();
  const watchers = new Set<() => void>();
  let expired = 0;

  const changed = (): void => {
    for (const watcher of watchers) watcher();
  };
  const dropExpired = (): void => {
    for (const [id, { receivedAt }] of kept)
      if (now() - receivedAt >= limits.lastsMs) {
        kept.delete(id);
        expired += 1;
      }
  };
  const room = () => {
    let bytes = limits.bytes;
    for (const one of kept.values()) bytes -= one.bytes.length;
    return { photos: limits.photos - kept.size, bytes };
  };

  return {
    put({ bytes, name, format, from }) {
      dropExpired();
      const id = fingerprintOf(bytes);
      const known = kept.get(id);
      if (known) return { photo: known.photo, already: true };
      const left = room();
      if (left.photos < 1 || left.bytes < bytes.length)
        throw new Refusal(
          'inbox-full',
          'The inbox on the computer is full; this photo was not kept. Take photos out there, then send it again.',
        );
      const receivedAt = now();
      const photo: InboxPhoto = {
        id,
        name: shownName(name),
        bytes: bytes.length,
        format,
        from,
        receivedAt: new Date(receivedAt).toISOString(),
        expiresAt: new Date(receivedAt + limits.lastsMs).toISOString(),
        photoHref: `/api/inbox/${id}/photo`,
        previewHref: `/api/inbox/${id}/preview`,
      };
      kept.set(id, { photo, bytes, receivedAt });
      changed();
      return { photo, already: false };
    },
    bytesOf(id) {
      dropExpired();
      const one = kept.get(id);
      return one ? { bytes: one.bytes, format: one.photo.format } : null;
    },
    remove(id) {
      const removed = kept.delete(id);
      if (removed) changed();
      return removed;
    },
    list() {
      dropExpired();
      return { photos: [...kept.values()].map(({ photo }) => photo).reverse(), room: room(), expired };
    },
    watch(onChange) {
      watchers.add(onChange);
      return () => watchers.delete(onChange);
    },
  };
};
