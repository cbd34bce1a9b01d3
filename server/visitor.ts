import type { Context } from 'hono';
import { getCookie } from 'hono/cookie';
import type { PairedPhone } from './contracts/pairing.ts';
import type { Door } from './door.ts';
import type { Pairing } from './pairing.ts';

/** Cookies go to every port of a host; the port in the name keeps two running copies apart. */
export const sessionCookie = (door: Door): string =>
  `tonestep-phone-${/:(\d+)$/.exec(door.address())?.[1] ?? '80'}`;

/** The address that the connection comes from. What headers say about it is not asked: anybody can write them. */
export const remoteOf = (c: Context): string | undefined =>
  (
    c.env as { incoming?: { socket?: { remoteAddress?: string } } } | undefined
  )?.incoming?.socket?.remoteAddress?.replace(/^::ffff:/i, '');

/** Who is asking, by the door and by the phone's cookie. */
export type Visitor =
  | { readonly kind: 'computer' }
  | { readonly kind: 'phone'; readonly phone: PairedPhone }
  | { readonly kind: 'stranger' };

export const visitorOf = (c: Context, door: Door, pairing: Pairing): Visitor => {
  if (door.kind === 'computer') return { kind: 'computer' };
  const phone = pairing.phoneOf(getCookie(c, sessionCookie(door)), remoteOf(c));
  return phone ? { kind: 'phone', phone } : { kind: 'stranger' };
};
