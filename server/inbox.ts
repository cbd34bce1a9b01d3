import type { InboxAnswer, InboxPhoto } from './contracts/pairing.ts';
import { type InboxFiles, memoryInboxFiles } from './inboxFiles.ts';
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

/** Photos that phones have sent, until somebody takes them out. */
export interface Inbox {
  /**
   * Keeps a photo; when this returns it is kept. The same bytes again are the photo that is there already.
   * @throws Refusal `inbox-full`, `disk-full`: nothing is pushed out to make room.
   */
  put(arrival: Arrival): Promise<{ readonly photo: InboxPhoto; readonly already: boolean }>;
  bytesOf(id: string): Promise<{ readonly bytes: Uint8Array; readonly format: string } | null>;
  /** False where there is no such photo. */
  remove(id: string): Promise<boolean>;
  list(): Promise<InboxAnswer>;
  /** Calls back after every change of `list`; returns what ends that. */
  watch(onChange: () => void): () => void;
}

/** A file name for showing: without folders, control signs and what turns the direction of writing; 80 signs at most. */
export const shownName = (name: string): string => {
  const last = name.split(/[/\\]/).at(-1) ?? '';
  const plain = last.replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Zl}\p{Zp}]/gu, '').trim();
  return [...plain].slice(0, 80).join('') || 'photo';
};

export interface InboxOptions {
  readonly limits?: InboxLimits;
  readonly files?: InboxFiles;
  readonly now?: () => number;
}

/** The inbox, with what lies in it from before. Where its files can't be had, it is kept in memory. */
export const createInbox = ({
  limits = INBOX_LIMITS,
  files: wanted = memoryInboxFiles(),
  now = Date.now,
}: InboxOptions = {}): Inbox => {
  let files = wanted;
  const kept = new Map<string, InboxPhoto>();
  const arriving = new Map<string, Promise<InboxPhoto>>();
  const watchers = new Set<() => void>();
  let arrivingBytes = 0;
  let expired = 0;

  const changed = (): void => {
    for (const watcher of watchers) watcher();
  };
  const dropExpired = (): void => {
    for (const { id, expiresAt } of kept.values())
      if (now() >= Date.parse(expiresAt)) {
        kept.delete(id);
        expired += 1;
        // Where the file stays behind, the next start finds it expired again.
        files.drop(id).catch(() => undefined);
      }
  };
  const room = () => {
    let bytes = limits.bytes - arrivingBytes;
    for (const one of kept.values()) bytes -= one.bytes;
    return { photos: limits.photos - kept.size - arriving.size, bytes };
  };
  const keep = async (photo: InboxPhoto, bytes: Uint8Array): Promise<InboxPhoto> => {
    try {
      arrivingBytes += bytes.length;
      await files.keep(photo, bytes);
      kept.set(photo.id, photo);
      return photo;
    } finally {
      arriving.delete(photo.id);
      arrivingBytes -= bytes.length;
    }
  };

  const ready = (async () => {
    try {
      const before = await files.load();
      for (const photo of before.toSorted((a, b) => Date.parse(a.receivedAt) - Date.parse(b.receivedAt)))
        kept.set(photo.id, photo);
    } catch {
      files = memoryInboxFiles();
    }
  })();

  return {
    async put({ bytes, name, format, from }) {
      await ready;
      dropExpired();
      const id = fingerprintOf(bytes);
      // Nothing else may come between the look and the place taken below, so no waiting where there is nothing to wait for.
      const underWay = arriving.get(id);
      const known = kept.get(id) ?? (underWay && (await underWay));
      if (known) return { photo: known, already: true };
      const left = room();
      if (left.photos < 1 || left.bytes < bytes.length)
        throw new Refusal(
          'inbox-full',
          'The inbox on the computer is full; this photo was not kept. Take photos out there, then send it again.',
        );
      const receivedAt = now();
      const keeping = keep(
        {
          id,
          name: shownName(name),
          bytes: bytes.length,
          format,
          from,
          receivedAt: new Date(receivedAt).toISOString(),
          expiresAt: new Date(receivedAt + limits.lastsMs).toISOString(),
          photoHref: `/api/inbox/${id}/photo`,
          previewHref: `/api/inbox/${id}/preview`,
        },
        bytes,
      );
      arriving.set(id, keeping);
      const photo = await keeping;
      changed();
      return { photo, already: false };
    },
    async bytesOf(id) {
      await ready;
      dropExpired();
      const photo = kept.get(id);
      const bytes = photo && (await files.read(id));
      return photo && bytes ? { bytes, format: photo.format } : null;
    },
    async remove(id) {
      await ready;
      if (!kept.delete(id)) return false;
      changed();
      await files.drop(id);
      return true;
    },
    async list() {
      await ready;
      dropExpired();
      return { photos: [...kept.values()].reverse(), room: room(), expired };
    },
    watch(onChange) {
      watchers.add(onChange);
      return () => watchers.delete(onChange);
    },
  };
};
