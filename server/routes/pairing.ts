import type { Handler } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import QRCode from 'qrcode';
import {
  type ExchangeAnswer,
  exchangeRequest,
  PAIRING_FRAGMENT,
  type PairingOffer,
  phoneGrant,
  type VisitorAnswer,
} from '../contracts/pairing.ts';
import type { Door } from '../door.ts';
import type { Pairing } from '../pairing.ts';
import { bodyBy } from '../parsedBy.ts';
import { Refusal } from '../refusal.ts';
import { remoteOf, sessionCookie, visitorOf } from '../visitor.ts';

/** GET /api/visitor: who is asking, so that the page knows what to show. */
export const getVisitor =
  (door: Door, pairing: Pairing, lan: () => readonly string[]): Handler =>
  (c) => {
    const visitor = visitorOf(c, door, pairing);
    const answer: VisitorAnswer = {
      visitor: visitor.kind,
      phone: visitor.kind === 'phone' ? visitor.phone.name : null,
      book: visitor.kind === 'computer' || (visitor.kind === 'phone' && visitor.phone.book),
      addresses: visitor.kind === 'stranger' ? [] : lan(),
    };
    return c.json(answer);
  };

/** POST /api/pairing: a code for the next phone. */
export const postPairing =
  (pairing: Pairing, lan: () => readonly string[]): Handler =>
  async (c) => {
    const [address, ...others] = lan();
    if (address === undefined)
      throw new Refusal(
        'lan-off',
        'Tonestep was started for this computer alone. Stop it and start it with: npm start -- --lan',
      );
    const { code, expiresAt } = pairing.offer();
    const urlUnder = (base: string): string => `${base}/${PAIRING_FRAGMENT}${code}`;
    const url = urlUnder(address);
    const answer: PairingOffer = {
      code,
      url,
      otherUrls: others.map(urlUnder),
      address,
      qrSvg: await QRCode.toString(url, { type: 'svg', errorCorrectionLevel: 'M', margin: 4 }),
      expiresAt: new Date(expiresAt).toISOString(),
    };
    return c.json(answer, 201);
  };

/** GET /api/pairing: the paired phones, and until when a code is open. */
export const getPairing =
  (pairing: Pairing): Handler =>
  (c) =>
    c.json(pairing.state());

/** DELETE /api/pairing: the open code is void from now on. */
export const deletePairing =
  (pairing: Pairing): Handler =>
  (c) => {
    pairing.withdraw();
    return c.json(pairing.state());
  };

const unpaired = (): never => {
  throw new Refusal('not-found', 'This phone is not paired any more.');
};

/** PATCH /api/pairing/phones/:id: opens the book to a phone, or shuts it. */
export const patchPhone =
  (pairing: Pairing): Handler =>
  async (c) => {
    const { book } = await bodyBy(c, phoneGrant);
    if (!pairing.openBook(c.req.param('id') ?? '', book)) unpaired();
    return c.json(pairing.state());
  };

/** DELETE /api/pairing/phones/:id: this phone is out from now on. */
export const deletePhone =
  (pairing: Pairing): Handler =>
  (c) => {
    if (!pairing.end(c.req.param('id') ?? '')) unpaired();
    return c.json(pairing.state());
  };

/** POST /api/pairing/exchange: the code for a session, in a cookie that scripts and other sites don't get. */
export const postExchange =
  (door: Door, pairing: Pairing): Handler =>
  async (c) => {
    const body = exchangeRequest.safeParse(await c.req.json().catch(() => null));
    if (!body.success) throw new Refusal('request-invalid', 'Send the code as JSON: {"code": "…"}.');
    const from = remoteOf(c);
    if (door.kind === 'computer' || from === undefined)
      throw new Refusal('request-invalid', 'This computer needs no code: open its page and go ahead.');
    const { token, lastsMs, phone } = pairing.exchange(
      body.data.code,
      from,
      getCookie(c, sessionCookie(door)),
    );
    setCookie(c, sessionCookie(door), token, {
      httpOnly: true,
      sameSite: 'Strict',
      path: '/',
      maxAge: Math.floor(lastsMs / 1000),
    });
    const answer: ExchangeAnswer = { phone };
    return c.json(answer);
  };
