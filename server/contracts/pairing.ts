import { z } from 'zod';

// A phone comes in by a code, once. Who may use which address stands in the list of addresses (doorEndpoints.ts).

/** Where a code is taken to: the page's address on the local network with this fragment behind it. */
export const PAIRING_FRAGMENT = '#pair=';

/** Answer to GET /api/visitor. `computer` is this machine itself; `stranger` has to pair first. */
export const visitorAnswer = z
  .object({
    visitor: z.enum(['computer', 'phone', 'stranger']),
    /** The phone's own name, as the computer shows it. */
    phone: z.string().nullable(),
    /** May it use the book? A phone only where the computer has opened it. */
    book: z.boolean(),
    /** Addresses of the page on the local network; none unless the server was started with --lan. */
    addresses: z.array(z.string()).readonly(),
  })
  .readonly();
export type VisitorAnswer = z.infer<typeof visitorAnswer>;

/** Answer to POST /api/pairing. */
export const pairingOffer = z
  .object({
    /** Nine letters and digits in three groups; hyphens, blanks and case make no difference when typed. */
    code: z.string().regex(/^[0-9A-Z]{3}-[0-9A-Z]{3}-[0-9A-Z]{3}$/),
    /** What the QR picture holds: the address with the code in its fragment, which browsers keep to themselves. */
    url: z.string(),
    /** The same for the other addresses of this machine. */
    otherUrls: z.array(z.string()).readonly(),
    /** The address alone, for typing. */
    address: z.string(),
    /** An SVG picture, black on white, without script, style or links. */
    qrSvg: z.string(),
    expiresAt: z.iso.datetime(),
  })
  .readonly();
export type PairingOffer = z.infer<typeof pairingOffer>;

export const pairedPhone = z
  .object({
    id: z.string(),
    name: z.string(),
    pairedAt: z.iso.datetime(),
    lastSeenAt: z.iso.datetime(),
    expiresAt: z.iso.datetime(),
    /** Has the computer opened the book to it? */
    book: z.boolean(),
  })
  .readonly();
export type PairedPhone = z.infer<typeof pairedPhone>;

/** Answer to GET /api/pairing, and the event `phones`. */
export const pairingState = z
  .object({ openUntil: z.iso.datetime().nullable(), phones: z.array(pairedPhone).readonly() })
  .readonly();
export type PairingState = z.infer<typeof pairingState>;

/** Body of POST /api/pairing/exchange. */
export const exchangeRequest = z.object({ code: z.string().max(64) }).readonly();

/** Body of PATCH /api/pairing/phones/:id. */
export const phoneGrant = z.object({ book: z.boolean() }).readonly();

/** Answer to POST /api/pairing/exchange; the session itself is in a cookie that no script can read. */
export const exchangeAnswer = z.object({ phone: pairedPhone }).readonly();
export type ExchangeAnswer = z.infer<typeof exchangeAnswer>;

export const inboxPhoto = z
  .object({
    /** The same bytes have the same id: sending a photo again does no harm. */
    id: z.string(),
    /** The file's name, cleaned; "photo" where there was none. */
    name: z.string(),
    bytes: z.number().int().positive(),
    format: z.string(),
    /** Which phone sent it; "this computer" for the machine itself. */
    from: z.string(),
    receivedAt: z.iso.datetime(),
    /** Until when it is kept. */
    expiresAt: z.iso.datetime(),
    photoHref: z.string(),
    previewHref: z.string(),
  })
  .readonly();
export type InboxPhoto = z.infer<typeof inboxPhoto>;

/** Answer to GET /api/inbox, and the event `inbox`, which comes at the start and after every change. */
export const inboxAnswer = z
  .object({
    /** Newest first. */
    photos: z.array(inboxPhoto).readonly(),
    room: z.object({ photos: z.number().int(), bytes: z.number().int() }).readonly(),
    /** Photos that ran out of time since the server started: they are gone from here, and the page should say so. */
    expired: z.number().int(),
  })
  .readonly();
export type InboxAnswer = z.infer<typeof inboxAnswer>;

/** Answer to POST /api/inbox. */
export const inboxReceipt = z.object({ photo: inboxPhoto, already: z.boolean() }).readonly();
export type InboxReceipt = z.infer<typeof inboxReceipt>;
