import type { MiddlewareHandler } from 'hono';
import type { Endpoint, Visitors } from '../contracts/endpoint.ts';
import type { Door } from '../door.ts';
import type { Pairing } from '../pairing.ts';
import { Refusal } from '../refusal.ts';
import { type Visitor, visitorOf } from '../visitor.ts';

/** Who may ask for this? An address that is not in the list is nobody's but the computer's. */
export type MayAsk = (method: string, path: string) => Visitors;

/** Looks addresses up in the list that the server answers by. */
export const mayAskBy = (endpoints: readonly Endpoint[]): MayAsk => {
  const rows = endpoints.map(({ method, path, visitors }) => ({
    method: method.toUpperCase(),
    parts: path.split('/'),
    // Where two rows fit, as /api/record/readings/{id} and a fixed word, the one with fewer blanks is meant.
    blanks: path.split('{').length - 1,
    visitors,
  }));
  const inOrder = rows.toSorted((one, other) => one.blanks - other.blanks);
  return (method, path) => {
    const asked = path.split('/');
    // A HEAD is answered as a GET.
    const wanted = method === 'HEAD' ? 'GET' : method;
    const row = inOrder.find(
      ({ method: its, parts }) =>
        its === wanted &&
        parts.length === asked.length &&
        parts.every((part, i) => part.startsWith('{') || part === asked[i]),
    );
    return row?.visitors ?? 'computer';
  };
};

const comesIn = (visitor: Visitor, wanted: Visitors): boolean => {
  switch (visitor.kind) {
    case 'computer':
      return true;
    case 'phone':
      return wanted === 'anyone' || wanted === 'phone' || (wanted === 'book' && visitor.phone.book);
    case 'stranger':
      return wanted === 'anyone';
  }
};

const refusalOf = (visitor: Visitor, wanted: Visitors): Refusal => {
  if (visitor.kind === 'stranger')
    return new Refusal(
      'pairing-needed',
      'This phone is not paired. On the computer’s page, under Read, choose “Use my phone as the camera”, then scan the picture or type the code here.',
    );
  return wanted === 'book'
    ? new Refusal(
        'book-shut',
        'The book is not open to this phone. On the computer’s page, beside the paired phone, choose that it may use the book.',
      )
    : new Refusal('computer-only', 'This is done on the computer itself, not on a phone.');
};

/** Lets in the computer itself, and paired phones to what is theirs; looked at before any body is read. */
export const pairedGuard =
  (door: Door, pairing: Pairing, mayAsk: MayAsk): MiddlewareHandler =>
  async (c, next) => {
    const visitor = visitorOf(c, door, pairing);
    const wanted = mayAsk(c.req.method, c.req.path);
    if (!comesIn(visitor, wanted)) throw refusalOf(visitor, wanted);
    await next();
  };
