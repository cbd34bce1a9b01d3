import type { MiddlewareHandler } from 'hono';
import type { Door } from '../door.ts';
import type { Pairing } from '../pairing.ts';
import { Refusal } from '../refusal.ts';
import { visitorOf } from '../visitor.ts';

/** What a stranger on the local network may ask: who it is, and to be let in. */
const OPEN_TO_STRANGERS = new Set(['GET /api/visitor', 'POST /api/pairing/exchange']);

/** Lets in the computer itself and paired phones; looked at before any body is read. */
export const pairedGuard =
  (door: Door, pairing: Pairing): MiddlewareHandler =>
  async (c, next) => {
    if (
      !OPEN_TO_STRANGERS.has(`${c.req.method} ${c.req.path}`) &&
      visitorOf(c, door, pairing).kind === 'stranger'
    )
      throw new Refusal(
        'pairing-needed',
        'This phone is not paired. On the computer’s page choose "Phone", then scan the picture or type the code here.',
      );
    await next();
  };

/** Who may come in is decided on the computer alone. */
export const computerOnly =
  (door: Door): MiddlewareHandler =>
  async (_, next) => {
    if (door.kind !== 'computer')
      throw new Refusal('computer-only', 'Phones are paired and ended on the computer itself.');
    await next();
  };
