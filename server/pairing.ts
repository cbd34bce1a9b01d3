import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';
import { phrase } from '../analysis/phrases.ts';
import { createAttempts } from './attempts.ts';
import type { PairedPhone, PairingState } from './contracts/pairing.ts';
import { Refusal } from './refusal.ts';

/** Letters and digits that can't be taken for one another; 5 bits each. Source: Crockford's base 32. */
const SIGNS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const CODE_SIGNS = 9;
const TOKEN_BYTES = 32;
const CODE_LASTS_MS = 5 * 60_000;
const SESSION_LASTS_MS = 12 * 3_600_000;
const MOST_PHONES = 64;

export interface PairingCode {
  /** 45 bits, in three groups. */
  readonly code: string;
  readonly expiresAt: number;
}

export interface PairedSession {
  /** What the cookie holds; known nowhere else, kept here only as its hash. */
  readonly token: string;
  readonly lastsMs: number;
  readonly phone: PairedPhone;
}

/** Which phones may come in: one open code at a time, used once, then a session bound to the phone's address. */
export interface Pairing {
  /** Makes a code and voids the one before it. */
  offer(): PairingCode;
  /** Voids the open code. */
  withdraw(): void;
  /**
   * A session under a new token, whatever the phone brought along; the one that it had until now ends.
   * @throws Refusal `pairing-limited`, `pairing-refused` or `pairing-full`.
   */
  exchange(code: string, from: string, before?: string): PairedSession;
  /** The phone that this cookie belongs to, if it comes from where it was paired. */
  phoneOf(token: string | undefined, from: string | undefined): PairedPhone | null;
  /** Opens the book to a phone or shuts it; false where no phone has this id. */
  openBook(id: string, book: boolean): boolean;
  /** False where no phone has this id. */
  end(id: string): boolean;
  state(): PairingState;
  /** Calls back after every change of `state`; returns what ends that. */
  watch(onChange: () => void): () => void;
}

interface Session {
  readonly id: string;
  readonly name: string;
  readonly from: string;
  readonly pairedAt: number;
  readonly lastSeenAt: number;
  readonly book: boolean;
}

const hashOf = (text: string): Buffer => createHash('sha256').update(text).digest();

/** As typed by people: small letters, blanks and hyphens, O for 0 and I or L for 1. */
const normalised = (code: string): string =>
  code.toUpperCase().replace(/[\s-]/g, '').replace(/O/g, '0').replace(/[IL]/g, '1');

const newCode = (): string =>
  Array.from({ length: CODE_SIGNS }, () => SIGNS[randomInt(SIGNS.length)])
    .join('')
    .replace(/(...)(?=.)/g, '$1-');

export const createPairing = (now: () => number = Date.now): Pairing => {
  const attempts = createAttempts({ each: 5, together: 20, windowMs: 60_000 }, now);
  const sessions = new Map<string, Session>();
  const watchers = new Set<() => void>();
  let open: { readonly hash: Buffer; readonly expiresAt: number } | null = null;
  let paired = 0;

  const changed = (): void => {
    for (const watcher of watchers) watcher();
  };
  const dropExpired = (): void => {
    for (const [key, { pairedAt }] of sessions)
      if (now() - pairedAt >= SESSION_LASTS_MS) sessions.delete(key);
    if (open && now() >= open.expiresAt) open = null;
  };
  const shown = ({ id, name, pairedAt, lastSeenAt, book }: Session): PairedPhone => ({
    id,
    name,
    pairedAt: new Date(pairedAt).toISOString(),
    lastSeenAt: new Date(lastSeenAt).toISOString(),
    expiresAt: new Date(pairedAt + SESSION_LASTS_MS).toISOString(),
    book,
  });

  return {
    offer() {
      const code = newCode();
      open = { hash: hashOf(normalised(code)), expiresAt: now() + CODE_LASTS_MS };
      changed();
      return { code, expiresAt: open.expiresAt };
    },
    withdraw() {
      open = null;
      changed();
    },
    exchange(code, from, before) {
      const waitMs = attempts.take(from);
      if (waitMs !== null)
        throw new Refusal(
          'pairing-limited',
          'Too many codes were tried. Wait a minute, then type the code that the computer shows.',
          Math.ceil(waitMs / 1000),
        );
      dropExpired();
      // One answer for wrong, used and expired codes: it tells a guesser nothing.
      if (!open || !timingSafeEqual(open.hash, hashOf(normalised(code))))
        throw new Refusal(
          'pairing-refused',
          'This code is wrong, used up or too old. Ask for a new one on the computer.',
        );
      const old = before === undefined ? undefined : hashOf(before).toString('hex');
      if (old !== undefined && sessions.get(old)?.from === from) sessions.delete(old);
      if (sessions.size >= MOST_PHONES)
        throw new Refusal(
          'pairing-full',
          `${MOST_PHONES} phones are paired already. End one of them on the computer, then try again.`,
          { phrase: phrase('phones-many', { most: MOST_PHONES }) },
        );
      open = null;
      paired += 1;
      const token = randomBytes(TOKEN_BYTES).toString('base64url');
      const session: Session = {
        id: randomBytes(8).toString('hex'),
        name: `Phone ${paired}`,
        from,
        pairedAt: now(),
        lastSeenAt: now(),
        book: false,
      };
      sessions.set(hashOf(token).toString('hex'), session);
      changed();
      return { token, lastsMs: SESSION_LASTS_MS, phone: shown(session) };
    },
    phoneOf(token, from) {
      if (token === undefined || from === undefined) return null;
      dropExpired();
      const key = hashOf(token).toString('hex');
      const session = sessions.get(key);
      if (!session || session.from !== from) return null;
      const seen = { ...session, lastSeenAt: now() };
      sessions.set(key, seen);
      return shown(seen);
    },
    openBook(id, book) {
      for (const [key, session] of sessions)
        if (session.id === id) {
          sessions.set(key, { ...session, book });
          changed();
          return true;
        }
      return false;
    },
    end(id) {
      for (const [key, session] of sessions)
        if (session.id === id) {
          sessions.delete(key);
          changed();
          return true;
        }
      return false;
    },
    state() {
      dropExpired();
      return {
        openUntil: open && new Date(open.expiresAt).toISOString(),
        phones: [...sessions.values()].map(shown),
      };
    },
    watch(onChange) {
      watchers.add(onChange);
      return () => watchers.delete(onChange);
    },
  };
};
